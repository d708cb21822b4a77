import { findVisit } from '@grainwright/db';
import {
  allows,
  type Caution,
  type CertificateWarning,
  missingBeforeStart,
  ok,
  type Result,
  type WorkOrderId,
} from '@grainwright/domain';
import { certificateWarnings } from '../accounts/certificate-warnings.ts';
import { type Actor, performAsStaff, type Scope } from '../perform.ts';
import type { Services } from '../services.ts';
import { type BlockedSeam, blockedSeam, cautionsToShow, readCircumstances } from './cautions.ts';
import { type WorkHeading, workHeading } from './work-heading.ts';
import { approvedLines, type OpenedWork, picturedPurposes, readWork } from './work-lines.ts';

export interface StartView {
  readonly workOrder: WorkHeading;
  readonly holdReason: string | null;
  readonly lines: readonly string[];
  readonly cautions: readonly Caution[];
  /** What the account is to send, since work on this day is taxed or will soon be; null while all is well. */
  readonly certificateWarning: CertificateWarning | null;
  /** In words: what has to be photographed before the work starts. */
  readonly missingPhotos: readonly string[];
  /** The first line whose seam may cover a side airbag and is not released; null where there is none. */
  readonly blockedSeam: BlockedSeam | null;
  readonly mayRelease: boolean;
}

/** What to read before work on the approved lines starts. `circumstances`: what was noticed at the vehicle. */
export function listCautions(
  services: Services,
  actor: Actor,
  input: { readonly workOrderId: WorkOrderId; readonly circumstances: readonly string[] },
): Promise<Result<StartView>> {
  return performAsStaff(services, actor, 'see_work_orders', async (scope) => {
    const noticed = readCircumstances(input.circumstances);
    if (!noticed.ok) return noticed;
    const work = await readWork(scope, input.workOrderId);
    if (!work.ok) return work;
    return ok({
      workOrder: workHeading(work.value),
      holdReason: work.value.workOrder.holdReason,
      lines: approvedLines(work.value).map((line) => line.label),
      cautions: cautionsToShow(work.value, noticed.value),
      certificateWarning: await warningOf(scope, work.value),
      missingPhotos: missingBeforeStart(work.value.account.photoRule, picturedPurposes(work.value)),
      blockedSeam: await blockedSeam(scope, input.workOrderId, approvedLines(work.value)),
      mayRelease: allows(scope.member.role, 'release_blocked_line'),
    });
  });
}

/** Certificates count by the date of work. */
async function warningOf(
  scope: Scope,
  { account, workOrder }: OpenedWork,
): Promise<CertificateWarning | null> {
  const visit = await findVisit(scope.tx, workOrder.visitId);
  if (visit === null) throw new Error('a work order names a visit that is not there');
  return (await certificateWarnings(scope, [account.id], visit.day)).get(account.id) ?? null;
}
