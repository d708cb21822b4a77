import { type AcceptanceRow, findAcceptance, findVisitSignature } from '@grainwright/db';
import {
  type AcceptanceId,
  type CopyWish,
  type Result,
  refuse,
  type VisitId,
  type VisitSignatureId,
  type WorkOrderId,
} from '@grainwright/domain';
import { type Actor, performAsStaff, type Scope } from '../perform.ts';
import type { Services } from '../services.ts';
import { type CopyGiven, writeCopy } from './write-copy.ts';

/** Of the answer to one work order, or of one signature over several vehicles of a visit. */
export type GiveCopyInput = { readonly copy: CopyWish } & (
  | { readonly workOrderId: WorkOrderId; readonly acceptanceId: AcceptanceId }
  | { readonly visitId: VisitId; readonly signatureId: VisitSignatureId }
);

/**
 * Gives the signer their copy by e-mail or by a link, or keeps that they want none; at the vehicle after signing, or from
 * the office whenever they ask for one. Refuses with `not_found`, `invalid_input`, `id_reused` or `link_revoked`.
 */
export function giveCopy(services: Services, actor: Actor, input: GiveCopyInput): Promise<Result<CopyGiven>> {
  return performAsStaff(services, actor, 'take_acceptance', async (scope) => {
    const rows = await answersOf(scope, input);
    if (rows.length === 0) return refuse('not_found', 'There is no such answer.');
    return writeCopy(services, scope, { wish: input.copy, rows, givenBy: actor.personId });
  });
}

async function answersOf({ tx }: Scope, input: GiveCopyInput): Promise<readonly AcceptanceRow[]> {
  if ('acceptanceId' in input) {
    const row = await findAcceptance(tx, input.acceptanceId);
    return row?.workOrderId === input.workOrderId ? [row] : [];
  }
  const signed = await findVisitSignature(tx, input.signatureId);
  return signed?.signature.visitId === input.visitId ? signed.acceptances : [];
}
