import type { LineId, Result, VersionId, WorkOrderId, WorkOrderState } from '@grainwright/domain';
import {
  type Actor,
  addLine,
  changeLine,
  type LineInput,
  removeLine,
  reviseEstimate,
  type Services,
  type WorkOrderView,
} from '@grainwright/operations';

/** How a line can be changed: as it is being written up, by sending a changed estimate, or not any more. */
export type LineChange = 'written_up' | 'sends_estimate' | 'closed';

export function lineChangeIn(state: WorkOrderState): LineChange {
  if (state === 'written_up') return 'written_up';
  return ['awaiting_approval', 'approved', 'in_work', 'done'].includes(state) ? 'sends_estimate' : 'closed';
}

export interface LineToKeep {
  readonly workOrderId: WorkOrderId;
  readonly lineId: LineId;
  readonly isNew: boolean;
  readonly line: LineInput;
  /** Ticked where the same part was written up lately. */
  readonly anotherDamage: boolean;
  /** Why the owner consents to a price below the floor; empty where nobody does. */
  readonly floorReason: string;
  /** Of the changed estimate that this sends; null while it is being written up. */
  readonly versionId: VersionId | null;
}

/** Keeps a line as the form says: in the write-up, or as a changed estimate in place of the one that was sent. */
export function keepLine(services: Services, actor: Actor, kept: LineToKeep): Promise<Result<WorkOrderView>> {
  const { workOrderId, lineId, isNew, line, anotherDamage, floorReason, versionId } = kept;
  if (versionId === null)
    return (isNew ? addLine : changeLine)(services, actor, { workOrderId, lineId, line, anotherDamage });
  const written = { lineId, line, anotherDamage };
  const added = isNew ? [written] : [];
  const changed = isNew ? [] : [written];
  const consent = floorReason === '' ? {} : { floorReason };
  return reviseEstimate(services, actor, {
    workOrderId,
    versionId,
    added,
    changed,
    removed: [],
    ...consent,
  });
}

/** As `keepLine`, taking it away. */
export function takeLineAway(
  services: Services,
  actor: Actor,
  { workOrderId, lineId, versionId }: Omit<LineToKeep, 'isNew' | 'line' | 'anotherDamage' | 'floorReason'>,
): Promise<Result<WorkOrderView>> {
  if (versionId === null) return removeLine(services, actor, { workOrderId, lineId });
  return reviseEstimate(services, actor, {
    workOrderId,
    versionId,
    added: [],
    changed: [],
    removed: [lineId],
  });
}
