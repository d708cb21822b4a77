import { askBeforeLeaving } from './ask-before-leaving.ts';

/** What the page's form says a photo shows. */
export interface PhotoWish {
  readonly purpose: string;
  /** Null: the vehicle as a whole. */
  readonly lineId: string | null;
  /** The photo that is taken again. */
  readonly retakeOf: string | null;
  /** In words, for the list of what was taken. */
  readonly words: string;
}

/** Null while nothing is chosen. */
export function readPhotoForm(form: HTMLFormElement): PhotoWish | null {
  const fields = new FormData(form);
  const text = (name: string) => String(fields.get(name) ?? '');
  const purpose = text('purpose');
  const isLineChosen = fields.has('line_id');
  if (purpose === '' || !isLineChosen) return null;
  const lineId = text('line_id');
  const retakeOf = text('retake_of');
  return {
    purpose,
    lineId: lineId === '' ? null : lineId,
    retakeOf: retakeOf === '' ? null : retakeOf,
    words: form.dataset.shows || `${labelOf(form, 'purpose')}: ${labelOf(form, 'line_id')}`,
  };
}

function labelOf(form: HTMLFormElement, name: string): string {
  const chosen = form.querySelector<HTMLInputElement>(`input[name="${name}"]:checked`);
  return chosen?.labels?.[0]?.textContent.trim() ?? '';
}

/** The next picture is taken instead of that one, and shows the same. */
export function wishAgain(form: HTMLFormElement, wish: PhotoWish, photoId: string): void {
  set(form, 'retake_of', photoId);
  set(form, 'purpose', wish.purpose);
  set(form, 'line_id', wish.lineId ?? '');
}

const againWords = 'Take it again. ';

/** It was taken; the one after is a picture of its own, and so the page says, also where it is opened once more. */
export function wishNoMore(form: HTMLFormElement, { purpose, lineId }: PhotoWish): void {
  set(form, 'retake_of', '');
  form.dataset.shows = (form.dataset.shows ?? '').replace(againWords, '');
  const heading = form.querySelector('h2');
  if (heading?.textContent.startsWith(againWords)) heading.textContent = form.dataset.shows;
  const keep = document.querySelector(`button[form="${form.id}"]`);
  if (keep) keep.textContent = 'Keep the photo';
  const address = new URL(location.href);
  if (!address.searchParams.has('retake')) return;
  address.searchParams.delete('retake');
  address.searchParams.set('purpose', purpose);
  address.searchParams.set('line_id', lineId ?? '');
  history.replaceState(history.state, '', address);
}

function set(form: HTMLFormElement, name: string, value: string): void {
  for (const field of form.querySelectorAll<HTMLInputElement>(`input[name="${name}"]`))
    if (field.type === 'radio') field.checked = field.value === value;
    else field.value = value;
}

interface Taking {
  takeFile(file: File, wish: PhotoWish | null): Promise<void>;
}

/** A file chosen in the form is kept and sent like a picture of the camera, instead of with the form. */
export function watchForm(form: HTMLFormElement, taking: Taking): void {
  const input = form.querySelector<HTMLInputElement>('input[type="file"]');
  if (input) askBeforeLeaving(input);
  document.addEventListener(
    'submit',
    (event) => {
      const file = input?.files?.[0];
      if (event.target !== form || file === undefined) return;
      event.preventDefault();
      event.stopImmediatePropagation();
      const wish = readPhotoForm(form);
      if (input && wish !== null) input.value = '';
      void taking.takeFile(file, wish);
    },
    true,
  );
}
