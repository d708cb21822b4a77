/**
 * Lays the two pictures of a pair over each other, with a divider to move: by dragging anywhere on them, or by the arrow
 * keys, Home and End of the range that it is for keyboards and screen readers. A button lays them side by side again. Both
 * pictures stay where they were in the page, with their words; nothing moves that nobody moves.
 */
for (const pair of document.querySelectorAll<HTMLElement>('.before-after[data-divider]')) whenThere(pair);

/** A picture that is still being made takes its place later. */
function whenThere(pair: HTMLElement): void {
  if (bothThere(pair)) {
    lay(pair);
    return;
  }
  const observer = new MutationObserver(() => {
    if (!bothThere(pair)) return;
    observer.disconnect();
    lay(pair);
  });
  observer.observe(pair, { childList: true, subtree: true });
}

function bothThere(pair: HTMLElement): boolean {
  return pair.querySelectorAll('figure img').length === 2;
}

function lay(pair: HTMLElement): void {
  // Half of a pair that has not come yet would look like a picture of nothing.
  for (const picture of pair.querySelectorAll('img')) picture.loading = 'eager';
  const range = rangeOf(pair.dataset.divider ?? '');
  const frame = document.createElement('div');
  frame.className = 'divider';
  const line = document.createElement('span');
  line.className = 'divider-line';
  const handle = document.createElement('span');
  handle.className = 'divider-handle';
  handle.textContent = '‹ ›';
  handle.setAttribute('aria-hidden', 'true');
  frame.append(range, line, handle);
  const show = (): void => {
    pair.style.setProperty('--divided-at', `${range.value}%`);
    range.setAttribute('aria-valuetext', `${range.value} % before, ${100 - range.valueAsNumber} % after`);
  };
  range.addEventListener('input', show);
  drag(frame, (share) => {
    range.valueAsNumber = Math.round(100 * share);
    show();
    range.focus({ preventScroll: true });
  });
  const large = [...pair.querySelectorAll<HTMLAnchorElement>('figure > a')].map(largeLink);
  pair.append(frame, toggleOf(pair, frame, large));
  setDivided(pair, frame, large, true);
  show();
}

function rangeOf(label: string): HTMLInputElement {
  const range = document.createElement('input');
  Object.assign(range, { type: 'range', min: '0', max: '100', step: '1', value: '50' });
  range.setAttribute('aria-label', label);
  return range;
}

/** The pointer is wherever it is pressed; a finger that moves up or down still scrolls the page. */
function drag(frame: HTMLElement, to: (share: number) => void): void {
  const follow = (event: PointerEvent): void => {
    const { left, width } = frame.getBoundingClientRect();
    to(Math.min(1, Math.max(0, (event.clientX - left) / Math.max(width, 1))));
  };
  frame.addEventListener('pointerdown', (event) => {
    if (event.button !== 0) return;
    event.preventDefault();
    frame.setPointerCapture(event.pointerId);
    follow(event);
  });
  frame.addEventListener('pointermove', (event) => {
    if (frame.hasPointerCapture(event.pointerId)) follow(event);
  });
}

interface LargeLink {
  /** The picture itself, which the divider covers. */
  readonly picture: HTMLAnchorElement;
  /** The words that stand for it meanwhile. */
  readonly words: HTMLAnchorElement;
}

function largeLink(picture: HTMLAnchorElement): LargeLink {
  const words = document.createElement('a');
  const caption = picture.parentElement?.querySelector('figcaption');
  const which = caption?.querySelector('b')?.textContent ?? 'Picture';
  words.href = picture.href;
  words.textContent = `${which}, large`;
  words.className = 'divider-large';
  caption?.append(words);
  return { picture, words };
}

function toggleOf(pair: HTMLElement, frame: HTMLElement, large: readonly LargeLink[]): HTMLButtonElement {
  const toggle = document.createElement('button');
  toggle.type = 'button';
  toggle.className = 'button divider-toggle';
  toggle.textContent = 'Side by side';
  toggle.addEventListener('click', () => {
    const divided = !pair.classList.contains('before-after--divided');
    setDivided(pair, frame, large, divided);
    toggle.textContent = divided ? 'Side by side' : 'Over each other';
  });
  return toggle;
}

function setDivided(
  pair: HTMLElement,
  frame: HTMLElement,
  large: readonly LargeLink[],
  divided: boolean,
): void {
  pair.classList.toggle('before-after--divided', divided);
  frame.hidden = !divided;
  for (const { picture, words } of large) {
    picture.tabIndex = divided ? -1 : 0;
    words.hidden = !divided;
  }
}
