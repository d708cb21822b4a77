/**
 * Shows the chosen photos under the camera field, so that blur and glare are seen beside the vehicle. Where the field
 * says so, its form is sent at once; the form's own words while it is sent are sending.ts's.
 */
for (const input of document.querySelectorAll<HTMLInputElement>('input[data-photo]')) {
  const list = document.querySelector(`[data-previews="${input.id}"]`);
  if (!list) continue;
  input.addEventListener('change', () => {
    preview(input, list);
    if (input.dataset.photo === 'send') sendAtOnce(input);
  });
}

/** By the button that a thumb would have pressed, which stands outside of the form. */
function sendAtOnce({ form, files }: HTMLInputElement): void {
  if (form === null || files === null || files.length === 0) return;
  form.requestSubmit(document.querySelector<HTMLButtonElement>(`button[form="${form.id}"]`));
}

function preview(input: HTMLInputElement, list: Element): void {
  list.replaceChildren(...[...(input.files ?? [])].map(entry));
}

function entry(file: File): HTMLLIElement {
  const image = new Image();
  image.alt = file.name;
  image.src = URL.createObjectURL(file);
  image.addEventListener('load', () => URL.revokeObjectURL(image.src));
  // A picture that this browser can't show is still sent, and inspected there.
  image.addEventListener('error', () => image.replaceWith(file.name));
  const item = document.createElement('li');
  item.append(image);
  return item;
}
