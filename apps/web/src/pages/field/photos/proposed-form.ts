import type { PhotosToTake } from '@grainwright/operations';
import { dueNow } from './due-now.ts';
import { openWarned } from './open-warned.ts';
import type { PhotoForm } from './photo-form.ts';

export interface Asked {
  readonly photoId: string;
  /** The photo that is to be taken again, by its id. */
  readonly retake: string | null | undefined;
  readonly lineId: string | null | undefined;
  readonly purpose: string | null | undefined;
  readonly choosing: boolean;
  /** The photo that was kept just now. */
  readonly kept?: string | undefined;
}

/**
 * What the page proposes to take: what was asked for; else once more what was just taken and has something said against
 * it; else what is due; and where nothing is, whatever still wants an answer.
 */
export function proposedForm(photos: PhotosToTake, asked: Asked): PhotoForm {
  const { photoId, choosing } = asked;
  const isOpen = asked.purpose == null && asked.lineId == null && !choosing;
  const again = photos.photos.find(
    ({ id }) => id === (asked.retake ?? (isOpen ? toTakeAgain(photos, asked) : null)),
  );
  if (again !== undefined && !choosing)
    return { photoId, lineId: again.lineId ?? '', purpose: again.purpose, retakeOf: again.id, choosing };
  const [first] = dueNow(photos);
  return {
    photoId,
    lineId: asked.lineId ?? (first === undefined ? photos.lines[0]?.id : first.lineId) ?? '',
    purpose: asked.purpose ?? first?.purposes[0] ?? '',
    retakeOf: '',
    choosing: choosing || (asked.purpose == null && first === undefined),
  };
}

function toTakeAgain(photos: PhotosToTake, { kept }: Asked): string | null {
  const open = openWarned(photos);
  if (open.some(({ id }) => id === kept)) return kept ?? null;
  return dueNow(photos).length === 0 ? (open[0]?.id ?? null) : null;
}
