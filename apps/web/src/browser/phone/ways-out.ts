import { isServiceAway } from './service-away.ts';

/** As long as the worker waits for a page. */
const patienceMilliseconds = 8000;

/**
 * A link to a page that is not for the phone ends, without signal, in the browser’s own page that says nothing: it is
 * answered here instead. `standsIn`: the app stands in for the service, so that first it is tried whether that answers.
 */
export function answerWaysOut({ standsIn }: { readonly standsIn: boolean }): void {
  document.addEventListener('click', (event) => {
    const link = event.target instanceof Element ? event.target.closest<HTMLAnchorElement>('a[href]') : null;
    if (link === null || event.defaultPrevented || !leavesPhone(link.href, location.origin)) return;
    if (navigator.onLine && !standsIn) return;
    event.preventDefault();
    void goWhereReached(link.href);
  });
}

/** Whether an address is of the service, and neither of a page nor of a picture that a phone has without signal. */
export function leavesPhone(href: string, origin: string): boolean {
  const url = new URL(href, origin);
  return url.origin === origin && !/^\/(?:field|photos)(?:\/|$)/.test(url.pathname);
}

async function goWhereReached(href: string): Promise<void> {
  if (await isReached(href)) location.assign(href);
  else window.alert('This page needs a signal. Open it again where there is one.');
}

async function isReached(href: string): Promise<boolean> {
  if (!navigator.onLine) return false;
  try {
    return !isServiceAway(await fetch(href, { signal: AbortSignal.timeout(patienceMilliseconds) }));
  } catch {
    return false;
  }
}
