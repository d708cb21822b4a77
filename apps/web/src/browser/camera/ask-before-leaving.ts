/** A file that was chosen and is not kept yet is lost with the page: whoever leaves it is asked first. */
export function askBeforeLeaving(input: HTMLInputElement): void {
  const isChosen = () => input.isConnected && (input.files?.length ?? 0) > 0;
  let mayLeave = false;
  window.addEventListener('beforeunload', (event) => {
    if (isChosen() && !mayLeave) event.preventDefault();
  });
  // Some browsers of phones leave without asking; by the page’s own links nobody does.
  document.addEventListener(
    'click',
    (event) => {
      const link = event.target instanceof Element ? event.target.closest('a[href]') : null;
      if (link === null || link.getAttribute('href')?.startsWith('#') || !isChosen()) return;
      mayLeave = window.confirm('The photo that you chose is not kept yet. Leave without it?');
      if (mayLeave) return;
      event.preventDefault();
      event.stopImmediatePropagation();
    },
    true,
  );
}
