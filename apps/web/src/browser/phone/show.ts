import type { Html } from '../../look/html.ts';

type Fields = readonly (readonly [string, FormDataEntryValue])[];

/**
 * Puts a page's content in place of what is there, opens its modules, and takes its forms: one that would be sent goes to
 * `taken` instead; one that only looks something up is a link like any other.
 */
export async function show(page: Html, taken: Taken): Promise<void> {
  const fresh = new DOMParser().parseFromString(page.toString(), 'text/html');
  document.title = fresh.title;
  document.body.className = fresh.body.className;
  const scripts = [...fresh.querySelectorAll<HTMLScriptElement>('script[src]')].map(
    ({ src }) => new URL(src).pathname,
  );
  document.body.replaceChildren(...fresh.body.childNodes);
  takeForms(taken);
  document.querySelector<HTMLElement>('[autofocus]')?.focus();
  window.scrollTo(0, 0);
  await openModules(scripts);
}

let shownBefore = 0;

/** Of the page's own modules those that work without the service; each looks over the page anew. */
async function openModules(paths: readonly string[]): Promise<void> {
  shownBefore += 1;
  const ofThePage = paths.filter((path) => !/^\/assets\/(?:news|phone|phoneApp)-/.test(path));
  for (const path of ofThePage) await import(`${path}?shown=${shownBefore}`);
}

type Taken = (path: string, fields: Fields) => Promise<void>;

let listening: Taken | null = null;

/** On the document, so that forms which come later are taken as well; modules of the page that listen come first. */
function takeForms(taken: Taken): void {
  const isFirst = listening === null;
  listening = taken;
  if (!isFirst) return;
  document.addEventListener('submit', (event) => {
    const form = event.target;
    if (!(form instanceof HTMLFormElement) || form.method !== 'post' || event.defaultPrevented) return;
    event.preventDefault();
    const { pathname } = new URL(form.action, location.href);
    if (pathname === '/sign-out') {
      window.alert('Signing out needs a signal. What this phone has kept stays yours.');
      return;
    }
    void listening?.(pathname, [...new FormData(form, event.submitter)]);
  });
}

/** Where there is nobody or nothing to show. */
export function showNobody(heading: string, words: string): void {
  const main = document.querySelector('main');
  const paragraph = document.createElement('p');
  paragraph.textContent = words;
  const title = document.querySelector('h1');
  if (title) title.textContent = heading;
  main?.append(paragraph);
}
