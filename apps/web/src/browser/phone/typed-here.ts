/** Whether somebody has filled in something on the page, or is about to: then it is not shown anew. */
export function isTypedHere(page: Document): boolean {
  if (isField(page.activeElement)) return true;
  return [...page.querySelectorAll<HTMLElement>('input, textarea, select')].some(isChanged);
}

/** Whether words were written or a file was chosen: what was only ticked is soon ticked again. */
export function isWrittenHere(page: Document): boolean {
  return [...page.querySelectorAll<HTMLElement>('input, textarea')].some(
    (field) => !isTick(field) && isChanged(field),
  );
}

function isTick(field: HTMLElement): boolean {
  return field instanceof HTMLInputElement && (field.type === 'checkbox' || field.type === 'radio');
}

function isField(element: Element | null): boolean {
  return element instanceof HTMLTextAreaElement || element instanceof HTMLInputElement;
}

function isChanged(field: HTMLElement): boolean {
  if (field instanceof HTMLTextAreaElement) return field.value !== field.defaultValue;
  if (field instanceof HTMLSelectElement)
    return [...field.options].some(({ selected, defaultSelected }) => selected !== defaultSelected);
  if (!(field instanceof HTMLInputElement) || field.type === 'hidden') return false;
  if (field.type === 'file') return (field.files?.length ?? 0) > 0;
  if (isTick(field)) return field.checked !== field.defaultChecked;
  return field.value !== field.defaultValue;
}
