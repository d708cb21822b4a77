/**
 * Live progress: while a page has `data-progress="/address"`, that address is asked again and again for the page's
 * moving parts, and each `data-live="name"` takes over what is new in its own. Without this module the page reloads.
 */
const pause = 1000;

const watched = document.querySelector<HTMLElement>('[data-progress]');
if (watched) void watch(watched);

async function watch(region: HTMLElement): Promise<void> {
  const address = region.dataset.progress ?? '';
  for (;;) {
    await new Promise((resolve) => setTimeout(resolve, document.hidden ? 5 * pause : pause));
    const fresh = await ask(address);
    if (fresh === null) continue;
    for (const part of region.querySelectorAll<HTMLElement>('[data-live]')) {
      const next = fresh.querySelector(`[data-live="${part.dataset.live}"]`);
      if (next && !saysTheSame(part, next)) part.replaceChildren(...next.childNodes);
    }
    if (fresh.querySelector('[data-progress]') === null) return;
  }
}

/** Then it is left alone: a link that has the focus keeps it, and nothing is read out again. */
function saysTheSame(part: Element, next: Element): boolean {
  const bar = (of: Element) => of.querySelector('progress')?.value;
  return part.textContent === next.textContent && bar(part) === bar(next);
}

/** Null when there was no answer: the next try may have one. */
async function ask(address: string): Promise<Document | null> {
  try {
    const reply = await fetch(address, { headers: { accept: 'text/html' } });
    if (!reply.ok) return null;
    return new DOMParser().parseFromString(await reply.text(), 'text/html');
  } catch {
    return null;
  }
}
