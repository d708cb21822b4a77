/**
 * Live news: a page with `data-news="/address"` hears there what others did about one's vehicles, and says so in that
 * place with a link, within seconds and without loading again; the page of that very vehicle loads anew, unless something on it was typed or chosen. Where no stream comes through, `/address.json` is asked
 * every ten seconds. Without this module a page that waits for an answer loads itself again.
 */
interface News {
  readonly id: string;
  readonly at: string;
  readonly kind: string;
  readonly work_order_id: string;
  readonly vehicle: string;
  readonly words: string;
}

const pollMilliseconds = 10_000;
/** So long a stream may take to say its first word; some proxies keep everything back. */
const patienceMilliseconds = 10_000;
const readMilliseconds = 2000;
const toldMax = 100;
const shownMax = 3;

const region = document.querySelector<HTMLElement>('[data-news]');
if (region) listen(region, region.dataset.news ?? '');

function listen(place: HTMLElement, address: string): void {
  const memory = openMemory();
  const hear = (news: News): void => {
    if (!memory.isNew(news)) return;
    place.prepend(entry(news));
    while (place.childElementCount > shownMax) place.lastElementChild?.remove();
    if (isOpenHere(news)) showAnew(place.firstElementChild);
  };
  if (typeof EventSource === 'undefined') {
    void poll(address, memory.since(), hear);
    return;
  }
  const stream = new EventSource(withSince(address, memory.since()));
  const giveUp = (): void => {
    stream.close();
    void poll(address, memory.since(), hear);
  };
  const patience = setTimeout(giveUp, patienceMilliseconds);
  stream.addEventListener('ready', () => clearTimeout(patience));
  stream.addEventListener('news', ({ data }) => {
    const news = parse(data);
    if (isNews(news)) hear(news);
  });
  stream.addEventListener('error', () => {
    // What broke off is opened again by the browser; what was refused is not.
    if (stream.readyState !== EventSource.CLOSED) return;
    clearTimeout(patience);
    giveUp();
  });
}

/** This is the page of the work order that the news is about; a form on a page of its own is left alone. */
function isOpenHere({ work_order_id }: News): boolean {
  return location.pathname.endsWith(`/work-orders/${work_order_id}`);
}

/** Long enough to read what came; what was typed meanwhile is kept, and the page left to the person. */
function showAnew(told: Element | null): void {
  setTimeout(() => {
    if (!isTouched()) {
      location.reload();
      return;
    }
    const link = document.createElement('a');
    link.href = location.href;
    link.textContent = 'Show it';
    told?.append(link);
  }, readMilliseconds);
}

/** Whether a field differs from what the page came with. A hidden one is nobody's typing. */
function isTouched(): boolean {
  return [...document.querySelectorAll('input, textarea, select')].some((field) => {
    if (field instanceof HTMLSelectElement)
      return (
        field.selectedIndex !==
        Math.max(
          0,
          [...field.options].findIndex((option) => option.defaultSelected),
        )
      );
    if (field instanceof HTMLTextAreaElement) return field.value !== field.defaultValue;
    if (!(field instanceof HTMLInputElement) || field.type === 'hidden') return false;
    if (field.type === 'file') return field.files !== null && field.files.length > 0;
    return field.value !== field.defaultValue || field.checked !== field.defaultChecked;
  });
}

async function poll(address: string, from: string, hear: (news: News) => void): Promise<void> {
  let since = from;
  for (;;) {
    const answer = await ask(withSince(`${address}.json`, since));
    if (answer === 'signed_out') return;
    for (const news of answer?.news ?? []) hear(news);
    since = answer?.until ?? since;
    await new Promise((resolve) => setTimeout(resolve, pollMilliseconds));
  }
}

interface Answer {
  readonly news: readonly News[];
  readonly until: string;
}

/** Null when there was no answer: the next try may have one. */
async function ask(address: string): Promise<Answer | 'signed_out' | null> {
  try {
    const reply = await fetch(address, { headers: { accept: 'application/json' } });
    if (reply.redirected || reply.status === 401 || reply.status === 403) return 'signed_out';
    const answer: unknown = reply.ok ? await reply.json() : null;
    if (typeof answer !== 'object' || answer === null || !('news' in answer && 'until' in answer))
      return null;
    const news = Array.isArray(answer.news) ? answer.news.filter(isNews) : [];
    return { news, until: String(answer.until) };
  } catch {
    return null;
  }
}

function withSince(address: string, since: string): string {
  return since === '' ? address : `${address}?since=${encodeURIComponent(since)}`;
}

function entry({ work_order_id, kind, words, vehicle }: News): HTMLElement {
  const link = document.createElement('a');
  link.href = `/field/work-orders/${work_order_id}`;
  link.textContent = words;
  const about = document.createElement('span');
  about.textContent = vehicle;
  const item = document.createElement('p');
  item.className = kind === 'approved' ? 'news-item news-item--yes' : 'news-item';
  item.append(link, about);
  return item;
}

/** What this tab has told, also on the pages before: from page to page nothing is lost, and nothing told twice. */
function openMemory() {
  const told = new Set(read('news-told').split(' '));
  let last = read('news-since');
  return {
    since: () => last,
    isNew(news: News): boolean {
      if (told.has(news.id)) return false;
      told.add(news.id);
      last = news.at;
      write('news-told', [...told].slice(-toldMax).join(' '));
      write('news-since', last);
      return true;
    },
  };
}

/** A browser may forbid to keep anything. */
function read(name: string): string {
  try {
    return sessionStorage.getItem(name) ?? '';
  } catch {
    return '';
  }
}

function write(name: string, value: string): void {
  try {
    sessionStorage.setItem(name, value);
  } catch {
    // Then the next page may tell it once more.
  }
}

function parse(text: unknown): unknown {
  try {
    return JSON.parse(String(text));
  } catch {
    return null;
  }
}

function isNews(value: unknown): value is News {
  if (typeof value !== 'object' || value === null) return false;
  return ['id', 'at', 'kind', 'work_order_id', 'vehicle', 'words'].every(
    (name) => typeof Object.getOwnPropertyDescriptor(value, name)?.value === 'string',
  );
}
