import type { PhotosToTake } from '@grainwright/operations';

/** The photos with something said against them that still want an answer; those of what is not done want none. */
export function openWarned({ open, lines, warned }: PhotosToTake): PhotosToTake['warned'] {
  const counts = (lineId: string | null) => lineId === null || lines.some(({ id }) => id === lineId);
  return warned.filter(
    ({ lineId, retakenBy, override }) => open && retakenBy === null && override === null && counts(lineId),
  );
}
