import type { PhotoWarning } from '@grainwright/domain';
import { momentHere } from '../phone/moment-here.ts';
import { newId } from '../phone/new-id.ts';
import { sendingWords } from '../phone/sending-words.ts';
import type { Keeping } from './keeping.ts';

export interface ShotToShow {
  readonly id: string;
  readonly file: Blob;
  readonly words: string;
  readonly warnings: readonly PhotoWarning[];
  readonly keeping: Keeping;
  readonly workOrderId: string;
  /** The picture that it was taken again for. */
  readonly replaces: string | null;
  /** The next picture is taken instead of this one. */
  readonly again: () => void;
}

/** A picture that was just taken: what it shows, where it stands, what is said against it, and what can be done. */
export function showShot(shot: ShotToShow): void {
  const section = document.querySelector<HTMLElement>('[data-shots]');
  const list = section?.querySelector('ol');
  if (!section || !list) return;
  section.hidden = false;
  const item = document.createElement('li');
  item.dataset.shot = shot.id;
  const state = element('p', 'Kept on this phone.');
  item.append(pictureOf(shot), element('h3', shot.words), state);
  if (shot.warnings.length > 0) item.append(...answers(shot));
  list.prepend(item);
  showReplaced(shot.replaces);
  // Neither over nor under it is the bar at the bottom; its height is known once the picture is there.
  item.querySelector('img')?.addEventListener('load', () => item.scrollIntoView({ block: 'nearest' }));
  const tell = async () => {
    const actions = await shot.keeping.store.listActions();
    const kept = actions.find(({ action }) => action.id === shot.id);
    if (kept) state.textContent = sendingWords(kept, { actions, online: navigator.onLine });
  };
  shot.keeping.store.onChange(() => void tell());
  void tell();
}

/** What was asked about one that was taken again is answered. */
function showReplaced(id: string | null): void {
  if (id === null) return;
  document
    .querySelector(`[data-shot="${id}"] [data-answers]`)
    ?.replaceChildren(element('p', 'Taken again; both are kept.'));
}

function pictureOf({ file, words }: ShotToShow): HTMLImageElement {
  const image = new Image();
  image.alt = words;
  image.src = URL.createObjectURL(file);
  image.addEventListener('load', () => URL.revokeObjectURL(image.src));
  return image;
}

/** Take it again, or say why it stays. Both are on the phone at once. */
function answers(shot: ShotToShow): readonly HTMLElement[] {
  const sentences = shot.warnings.map(({ sentence }) => element('p', sentence));
  const box = document.createElement('div');
  box.dataset.answers = '';
  const again = button('Take it again');
  again.addEventListener('click', () => {
    shot.again();
    document.querySelector('[data-camera]')?.scrollIntoView({ block: 'start' });
    const shutter = document.querySelector<HTMLButtonElement>('[data-shutter]');
    if (shutter?.hidden === false) shutter.focus();
    else document.querySelector<HTMLInputElement>('form#photo input[type="file"]')?.focus();
    box.replaceChildren(element('p', 'The next picture takes its place; both are kept.'));
  });
  const form = document.createElement('form');
  const label = element('label', 'Keep it, because …');
  const field = document.createElement('input');
  field.id = `because-${shot.id}`;
  field.required = true;
  field.maxLength = 500;
  label.setAttribute('for', field.id);
  const keep = button('Keep this photo');
  keep.type = 'submit';
  form.append(label, field, keep);
  form.addEventListener('submit', async (event) => {
    event.preventDefault();
    const reason = field.value.trim();
    if (reason === '') return;
    await shot.keeping.keep({
      id: newId(),
      workOrderId: shot.workOrderId,
      madeAt: momentHere(new Date()),
      kind: 'photo_reason',
      body: { photo_id: shot.id, reason },
    });
    box.replaceChildren(element('p', `Kept, because: ${reason}`));
  });
  box.append(again, form);
  return [...sentences, box];
}

function element(name: string, words: string): HTMLElement {
  const made = document.createElement(name);
  made.textContent = words;
  return made;
}

function button(words: string): HTMLButtonElement {
  const made = document.createElement('button');
  made.type = 'button';
  made.className = 'button';
  made.textContent = words;
  return made;
}
