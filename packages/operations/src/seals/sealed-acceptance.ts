import {
  type AcceptanceRow,
  findAcceptanceToSeal,
  findOwnersContact,
  findVisitShown,
  type TenantTransaction,
} from '@grainwright/db';
import {
  type AcceptanceId,
  canonicalJson,
  digestHex,
  type SealedAcceptance,
  type WithheldFacts,
} from '@grainwright/domain';
import { frozenText, sealedVersion, sealedWork, strokesDigest } from './sealed-work.ts';

export interface AcceptanceToSeal {
  readonly content: SealedAcceptance;
  readonly withheld: WithheldFacts;
}

/**
 * An answer to finished work, a no as well, with exactly what was shown. Where it came from is the staff's to know, and
 * under the seal as a digest; `nonce` keeps that from being guessed.
 */
export async function sealedAcceptance(
  tx: TenantTransaction,
  id: AcceptanceId,
  nonce: string,
): Promise<AcceptanceToSeal> {
  const found = await findAcceptanceToSeal(tx, id);
  if (found === null) throw new Error('there is no such answer');
  const { acceptance, takenByName } = found;
  const withheld: WithheldFacts = {
    format: 'withheld-facts-1',
    nonce,
    device: acceptance.device,
    fromAddress: acceptance.fromAddress,
    signer: { phone: acceptance.signerPhone, email: acceptance.signerEmail },
    contact: acceptance.linkId === null ? null : await findOwnersContact(tx, acceptance.linkId),
  };
  const content: SealedAcceptance = {
    format: 'sealed-acceptance-1',
    ...(await sealedWork(tx, acceptance.workOrderId)),
    acceptance: {
      id,
      outcome: acceptance.outcome,
      remark: acceptance.remark,
      acceptedAt: acceptance.acceptedAt,
      answeredAt: acceptance.answeredAt,
      takenBy: takenByName,
    },
    signer: {
      name: acceptance.signerName,
      role: acceptance.signerRole,
      identifiedBy: acceptance.identifiedBy,
      method: acceptance.method,
      strokesDigest: strokesDigest(acceptance.strokes),
      typedName: acceptance.typedName,
      pictureSha256: acceptance.signatureSha256,
    },
    shown: frozenText(acceptance.shown, acceptance.shownDigest),
    visit: await visitShown(tx, acceptance),
    approved: await sealedVersion(tx, acceptance.workOrderId),
    withheldDigest: digestHex(canonicalJson(withheld)),
  };
  return { content, withheld };
}

async function visitShown(
  tx: TenantTransaction,
  { visitSignatureId }: AcceptanceRow,
): Promise<SealedAcceptance['visit']> {
  if (visitSignatureId === null) return null;
  const visit = await findVisitShown(tx, visitSignatureId);
  if (visit === null) throw new Error('there is no such signature of a visit');
  return { id: visit.id, shown: frozenText(visit.shown, visit.shownDigest) };
}
