/**
 * Passes a text on from the device: `data-share="text"` opens the device's own sheet of ways to send it, or, where there
 * is none, copies it. Hidden until one of the two works: both need a secure address.
 */
for (const button of document.querySelectorAll<HTMLButtonElement>('button[data-share]')) offer(button);

function offer(button: HTMLButtonElement): void {
  const text = button.dataset.share ?? '';
  const label = button.textContent;
  const shares = 'share' in navigator;
  if (!shares && !('clipboard' in navigator)) return;
  if (!shares) button.textContent = button.dataset.copyLabel ?? label;
  button.hidden = false;
  button.addEventListener('click', () => {
    void (shares ? share(text) : copy(button, text));
  });
}

/** Somebody who closes the sheet has changed their mind, and that is no failure. */
async function share(text: string): Promise<void> {
  await navigator.share({ text }).catch(() => undefined);
}

async function copy(button: HTMLButtonElement, text: string): Promise<void> {
  const copied = await navigator.clipboard.writeText(text).then(
    () => true,
    () => false,
  );
  button.textContent = copied ? 'Copied' : 'Copy it from the field above';
}
