import type { Keeping } from './keeping.ts';
import { readPhotoForm } from './photo-form.ts';

interface Laying {
  readonly form: HTMLFormElement;
  readonly workOrderId: string;
  readonly keeping: Keeping;
}

/**
 * Lays the line's picture before the repair over what the camera sees while the one after is taken, so that both are from
 * one place. It is seen and not in the picture.
 */
export function layGhost(part: HTMLElement, laying: Laying): { readonly show: () => void } {
  const image = part.querySelector<HTMLImageElement>('.ghost');
  const tools = part.querySelector<HTMLElement>('[data-ghost-tools]');
  const box = part.querySelector<HTMLInputElement>('[data-ghost-on]');
  const strength = part.querySelector<HTMLInputElement>('[data-ghost-strength]');
  if (!image || !tools || !box || !strength) return { show: () => undefined };
  const show = async () => {
    const wish = readPhotoForm(laying.form);
    const source = wish?.purpose === 'after' ? await beforeOf(part, laying, wish.lineId) : null;
    tools.hidden = source === null;
    image.hidden = source === null || !box.checked;
    image.style.opacity = String(Number(strength.value) / 100);
    if (source !== null && image.src !== source) image.src = source;
  };
  const showNow = () => void show();
  box.addEventListener('change', showNow);
  strength.addEventListener('input', showNow);
  laying.form.addEventListener('change', showNow);
  return { show: showNow };
}

/** As the server has it, or from this phone while it is not sent. */
async function beforeOf(
  part: HTMLElement,
  { keeping, workOrderId }: Laying,
  lineId: string | null,
): Promise<string | null> {
  if (lineId === null) return null;
  const known = befores(part.dataset.befores ?? '[]').find(({ line }) => line === lineId);
  if (known !== undefined) return new URL(`/photos/${known.photo}/view`, location.href).href;
  const kept = (await keeping.store.listActions()).findLast(
    ({ action }) =>
      action.kind === 'photo' &&
      action.workOrderId === workOrderId &&
      action.body.purpose === 'before' &&
      action.body.line_id === lineId,
  );
  if (kept === undefined) return null;
  const here = onThisPhone.get(kept.action.id);
  if (here !== undefined) return here;
  const file = await keeping.store.readFile(kept.action.id);
  if (file === null) return null;
  const address = URL.createObjectURL(file);
  onThisPhone.set(kept.action.id, address);
  return address;
}

const onThisPhone = new Map<string, string>();

interface Before {
  readonly line: string;
  readonly photo: string;
}

function befores(text: string): readonly Before[] {
  const read: unknown = JSON.parse(text);
  return Array.isArray(read) ? read.filter(isBefore) : [];
}

function isBefore(value: unknown): value is Before {
  return typeof value === 'object' && value !== null && 'line' in value && 'photo' in value;
}
