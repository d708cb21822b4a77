import {
  listWarnedPhotos,
  type ShownPhotoRow,
  type ShownRecordingRow,
  type WarnedPhotoRow,
} from '@grainwright/db';
import {
  type LineId,
  ok,
  type PhotoStillToTake,
  photosStillToTake,
  type Result,
  type WorkOrderId,
} from '@grainwright/domain';
import { type Actor, performAsStaff } from '../perform.ts';
import type { Services } from '../services.ts';
import { type WorkHeading, workHeading } from '../work-orders/work-heading.ts';
import { type OpenedWork, picturedPurposes, readWork } from '../work-orders/work-lines.ts';

export interface PhotosToTake {
  readonly workOrder: WorkHeading;
  /** Whether photos may still be added. */
  readonly open: boolean;
  /** The lines that are to be repaired: all until it is decided, then those approved. */
  readonly lines: readonly { readonly id: LineId; readonly label: string }[];
  /** What is still to be taken before the work is finished, in its order. */
  readonly needed: readonly PhotoStillToTake[];
  readonly photos: readonly ShownPhotoRow[];
  readonly recordings: readonly ShownRecordingRow[];
  /** What was said against photos, and what became of it. */
  readonly warned: readonly WarnedPhotoRow[];
}

/** Which photos a work order has, and which its account's rule still asks for. */
export function listPhotosToTake(
  services: Services,
  actor: Actor,
  workOrderId: WorkOrderId,
): Promise<Result<PhotosToTake>> {
  return performAsStaff(services, actor, 'see_work_orders', async (scope) => {
    const work = await readWork(scope, workOrderId);
    if (!work.ok) return work;
    return ok(shown(work.value, await listWarnedPhotos(scope.tx, workOrderId)));
  });
}

function shown(work: OpenedWork, warned: readonly WarnedPhotoRow[]): PhotosToTake {
  const lines = work.lines.filter((line) => line.answer !== 'declined');
  return {
    workOrder: workHeading(work),
    open: ['written_up', 'awaiting_approval', 'approved', 'in_work', 'done'].includes(work.workOrder.state),
    lines: lines.map(({ id, label }) => ({ id, label })),
    needed: photosStillToTake(work.account.photoRule, picturedPurposes(work), lines),
    photos: work.photos,
    recordings: work.recordings,
    warned,
  };
}
