import { findAcceptance, type TenantTransaction } from '@grainwright/db';
import { type AcceptanceId, ok, type Result, refuse, type WorkOrderId } from '@grainwright/domain';
import { type CopyView, readCopies } from '../owners/copy-view.ts';
import { type Actor, performAsStaff } from '../perform.ts';
import type { Services } from '../services.ts';
import { type PicturedPart, readSignedParts } from './acceptance-to-show.ts';
import { readSignedText, type SignedText } from './read-signed-text.ts';

/** An answer as it was signed, with its pictures and where its copies went. */
export interface SignedAcceptance extends SignedText {
  readonly parts: readonly PicturedPart[];
  readonly copies: readonly CopyView[];
}

/** The same while the signer holds the technician's phone. */
export interface SignedToHandOver extends SignedAcceptance {
  /** How to reach the signer; empty where they did not say. */
  readonly contact: { readonly email: string; readonly phone: string };
}

/** The signed answer, for the signer to look at and keep. Refuses with `not_found`. */
export function readAcceptance(
  services: Services,
  actor: Actor,
  input: { readonly workOrderId: WorkOrderId; readonly acceptanceId: AcceptanceId },
): Promise<Result<SignedToHandOver>> {
  return performAsStaff(services, actor, 'take_acceptance', async ({ tx }) => {
    const row = await findAcceptance(tx, input.acceptanceId);
    if (row === null || row.workOrderId !== input.workOrderId) return noAnswer;
    const signed = await readSigned(tx, row);
    if (!signed.ok) return signed;
    return ok({ ...signed.value, contact: { email: row.signerEmail, phone: row.signerPhone } });
  });
}

/** In a transaction of the staff's role. */
async function readSigned(
  tx: TenantTransaction,
  row: NonNullable<Awaited<ReturnType<typeof findAcceptance>>>,
): Promise<Result<SignedAcceptance>> {
  const text = await readSignedText(tx, row);
  if (!text.ok) return noAnswer;
  const parts = await readSignedParts(tx, text.value.shown);
  return ok({ ...text.value, parts, copies: await readCopies(tx, row.id) });
}

const noAnswer = refuse('not_found', 'There is no such answer.');
