import type { WorkOrderView } from '@grainwright/operations';

/** Where a line leads once it is kept: to its before picture while that is missing, else to the line with its price. */
export function afterKeeping(view: WorkOrderView, lineId: string): string {
  const path = `/field/work-orders/${view.id}`;
  const line = view.lines.find(({ id }) => id === lineId);
  const isSeen = view.photos.some((photo) => photo.lineId === lineId && photo.purpose === 'before');
  const wantsPicture =
    view.state === 'written_up' && line !== undefined && line.repairsDamage && line.unpriced === null;
  return wantsPicture && !isSeen
    ? `${path}/photos?line_id=${lineId}&purpose=before&kept_line=${lineId}`
    : `${path}/lines/${lineId}`;
}
