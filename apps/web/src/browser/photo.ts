/**
 * Shows the chosen photos under the camera field before they are sent, so that blur and glare are seen beside
 * the vehicle. The form's own words while it is sent are sending.ts's.
 */
for (const input of document.querySelectorAll<HTMLInputElement>('input[data-photo]')) {
  const list = document.querySelector(`[data-previews="${input.id}"]`);
  if (list) input.addEventListener('change', () => preview(input, list));
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
