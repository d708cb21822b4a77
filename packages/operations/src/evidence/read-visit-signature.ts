import { findAttendedVisit, findVisitSignature, findWorkInHand } from '@grainwright/db';
import {
  type AcceptanceId,
  type AcceptanceOutcome,
  type Instant,
  ok,
  type Result,
  refuse,
  type VisitId,
  type VisitSignatureId,
  type WorkOrderId,
} from '@grainwright/domain';
import { type CopyView, readCopies } from '../owners/copy-view.ts';
import { type Actor, performAsStaff } from '../perform.ts';
import type { Services } from '../services.ts';
import { type WorkHeading, workHeading } from '../work-orders/work-heading.ts';

/** One signature over several vehicles, as the signer keeps it. */
export interface SignedVisitView {
  readonly accountName: string;
  readonly outcome: AcceptanceOutcome;
  readonly remark: string;
  readonly signerName: string;
  readonly signedAt: Instant;
  readonly digest: string;
  /** How to reach the signer; empty where they did not say. */
  readonly contact: { readonly email: string; readonly phone: string };
  /** Each once, whatever the number of vehicles. */
  readonly copies: readonly CopyView[];
  readonly vehicles: readonly {
    readonly workOrderId: WorkOrderId;
    readonly acceptanceId: AcceptanceId;
    readonly number: WorkHeading['number'];
    readonly vehicle: string;
    readonly ownNumber: string;
  }[];
}

/** Refuses with `not_found`. */
export function readVisitSignature(
  services: Services,
  actor: Actor,
  input: { readonly visitId: VisitId; readonly signatureId: VisitSignatureId },
): Promise<Result<SignedVisitView>> {
  return performAsStaff(services, actor, 'take_acceptance', async ({ tx }) => {
    const signed = await findVisitSignature(tx, input.signatureId);
    const visit = await findAttendedVisit(tx, input.visitId);
    const [first] = signed?.acceptances ?? [];
    if (
      signed === null ||
      visit === null ||
      first === undefined ||
      signed.signature.visitId !== input.visitId
    )
      return refuse('not_found', 'There is no such signature.');
    const vehicles = [];
    for (const { id: acceptanceId, workOrderId } of signed.acceptances) {
      const work = await findWorkInHand(tx, workOrderId);
      if (work === null) throw new Error('a signed work order is gone');
      const { number, vehicle, ownNumber } = workHeading(work);
      vehicles.push({ workOrderId, acceptanceId, number, vehicle, ownNumber });
    }
    const { outcome, remark, signerName } = first;
    const { signedAt, shownDigest: digest } = signed.signature;
    const contact = { email: first.signerEmail, phone: first.signerPhone };
    const copies = await readCopies(tx, first.id);
    const said = { outcome, remark, signerName, contact };
    return ok({ accountName: visit.account.name, ...said, signedAt, digest, copies, vehicles });
  });
}
