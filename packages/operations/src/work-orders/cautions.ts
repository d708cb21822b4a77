import { listSeamReleases, type SeamRelease } from '@grainwright/db';
import { refuse, seamIsBlocked, type WorkOrderId } from '@grainwright/domain';
import type { Scope } from '../perform.ts';
import type { WorkLine } from './work-lines.ts';

export {
  acknowledgedOf,
  cautionsAtHandOver,
  cautionsToShow,
  noticeable,
  readCircumstances,
  toldAtHandOver,
} from './shown-cautions.ts';

/** A line that re-sews a seam which may cover a side airbag. */
export type BlockedSeam = Pick<WorkLine, 'id' | 'label'>;

/** The first line that re-sews a seam which may cover a side airbag and is not released itself; null without one. */
export async function blockedSeam(
  scope: Scope,
  workOrderId: WorkOrderId,
  lines: readonly WorkLine[],
): Promise<BlockedSeam | null> {
  const seams = lines.filter((line) => seamIsBlocked({ parts: [line.part], methods: line.methods }));
  if (seams.length === 0) return null;
  const releases = await listSeamReleases(scope.tx, workOrderId);
  const blocked = seams.find((line) => !releases.some((release) => isOf(release, line)));
  return blocked === undefined ? null : { id: blocked.id, label: blocked.label };
}

/** A release holds for the part that the line was on: a line moved to another seat is asked for again. */
export function isOf(release: SeamRelease, line: WorkLine): boolean {
  return release.lineId === line.id && release.part === line.part && release.side === (line.side ?? '');
}

export function refuseBlockedSeam({ label }: BlockedSeam) {
  return refuse(
    'wrong_state',
    `${label}: a side airbag may open through this seam, so the line is blocked. The owner of the business can release it with a reason.`,
  );
}
