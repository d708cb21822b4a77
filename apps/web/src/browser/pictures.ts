/**
 * A picture whose copy for looking at is still being made stands as `data-picture="/address"`: it is asked for again,
 * each time after a longer pause, and takes its place once it is there. Without this module a link shows it.
 */
const pausesInSeconds = [1, 2, 3, 5, 8, 13, 21, 34, 55];

const waitedFor = new WeakSet<HTMLElement>();

watch();
// Parts of a page come anew while it is looked at.
new MutationObserver(watch).observe(document.body, { childList: true, subtree: true });

function watch(): void {
  for (const place of document.querySelectorAll<HTMLElement>('[data-picture]')) {
    if (waitedFor.has(place)) continue;
    waitedFor.add(place);
    void wait(place);
  }
}

async function wait(place: HTMLElement): Promise<void> {
  for (const seconds of pausesInSeconds) {
    await new Promise((resolve) => setTimeout(resolve, 1000 * seconds));
    if (!place.isConnected) return;
    const image = await load(place.dataset.picture ?? '', place.dataset.alt ?? '');
    if (image === null) continue;
    place.replaceWith(image);
    return;
  }
}

/** Null while it is not there. */
function load(address: string, words: string): Promise<HTMLImageElement | null> {
  return new Promise((resolve) => {
    const image = new Image();
    image.alt = words;
    image.addEventListener('load', () => resolve(image));
    image.addEventListener('error', () => resolve(null));
    image.src = address;
  });
}
