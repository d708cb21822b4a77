import { listWarnedPhotos, type WarnedPhotoRow } from '@grainwright/db';
import { type PhotoId, photoPurposes, type WorkOrderId } from '@grainwright/domain';
import type { Scope } from '../perform.ts';
import type { WorkLine } from '../work-orders/work-lines.ts';

/** A photo with something said against it that was neither taken again nor kept with a reason. */
export interface OpenPhotoWarning {
  readonly photoId: PhotoId;
  /** What it shows, e.g. “after: Cut or tear, tailgate lining”. */
  readonly shows: string;
  readonly sentences: readonly string[];
}

/** Of the lines that were worked and of the vehicle as a whole; what was declined is no evidence of work. */
export async function openWarnings(
  scope: Pick<Scope, 'tx'>,
  workOrderId: WorkOrderId,
  lines: readonly Pick<WorkLine, 'id' | 'label'>[],
): Promise<readonly OpenPhotoWarning[]> {
  const warned = await listWarnedPhotos(scope.tx, workOrderId);
  return warned.filter(isOpen).flatMap((photo) => {
    const line = lines.find(({ id }) => id === photo.lineId);
    if (photo.lineId !== null && line === undefined) return [];
    const shows = `${photoPurposes[photo.purpose]}: ${line?.label ?? 'the whole vehicle'}`;
    return [{ photoId: photo.id, shows, sentences: photo.warnings.map(({ sentence }) => sentence) }];
  });
}

function isOpen({ retakenBy, override }: WarnedPhotoRow): boolean {
  return retakenBy === null && override === null;
}
