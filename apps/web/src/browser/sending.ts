/**
 * Every tap answers at once: a form with `data-sending="Sending…"` says so on the button that was pressed, and
 * is not sent a second time while the first is under way.
 */
for (const form of document.querySelectorAll<HTMLFormElement>('form[data-sending]')) watch(form);

function watch(form: HTMLFormElement): void {
  const words = form.dataset.sending ?? '';
  const heard = document.createElement('p');
  heard.className = 'heard';
  heard.setAttribute('role', 'status');
  form.append(heard);

  let pressed: { readonly button: HTMLElement; readonly label: string | null } | null = null;
  form.addEventListener('submit', (event) => {
    if (pressed) {
      event.preventDefault();
      return;
    }
    const button = event.submitter;
    if (!button) return;
    pressed = { button, label: button.textContent };
    // Not `disabled`: its name and value must still be sent.
    button.setAttribute('aria-disabled', 'true');
    button.textContent = words;
    heard.textContent = words;
  });
  // A page taken back from the browser's memory would otherwise stay shut.
  window.addEventListener('pageshow', () => {
    if (!pressed) return;
    pressed.button.removeAttribute('aria-disabled');
    pressed.button.textContent = pressed.label;
    heard.textContent = '';
    pressed = null;
  });
}
