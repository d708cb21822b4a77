import { createHash, createPublicKey, verify } from 'node:crypto';
import { type AcceptanceId, type DecisionId, formatMinor, type WorkOrderId } from '@grainwright/domain';
import { acceptWork, decideEstimate, readWorkOrder, showAcceptance } from '@grainwright/operations';
import { answersTo, askedEstimate } from './asked-estimates.ts';
import { must } from './must.ts';
import type { Account } from './world-account.ts';

/** A scuffed panel, sent and ready to be answered: what the approver would send. */
export async function readyAnswer(account: Account) {
  const { world } = account.business;
  const asked = await askedEstimate(account, [
    { part: 'front_door_panel', damage: 'scuff', rateCode: 'SC-M' },
  ]);
  const { estimate } = must(await readWorkOrder(world.services, account.approver, asked.workOrderId));
  return {
    decisionId: world.newId<DecisionId>(),
    workOrderId: asked.workOrderId,
    versionId: asked.versionId,
    digest: asked.digest,
    answers: answersTo(asked),
    total: formatMinor(estimate?.price.invoice.totals.withTaxMinor ?? 0n, 'USD'),
  };
}

/** Approves a scuffed panel and answers the decision’s id. */
export async function approvedScuff(account: Account): Promise<DecisionId> {
  const answer = await readyAnswer(account);
  must(await decideEstimate(account.business.world.services, account.approver, answer));
  return answer.decisionId;
}

/** The vehicle’s owner answers to finished work, on the technician’s phone. */
export async function signed(
  account: Account,
  workOrderId: WorkOrderId,
  outcome: 'accepted' | 'not_accepted' = 'accepted',
): Promise<AcceptanceId> {
  const { world, technician } = account.business;
  const { digest } = must(await showAcceptance(world.services, technician, workOrderId));
  const acceptanceId = world.newId<AcceptanceId>();
  must(
    await acceptWork(world.services, technician, {
      acceptanceId,
      workOrderId,
      shownDigest: digest,
      outcome,
      remark: outcome === 'accepted' ? '' : 'a trace is left in the sun',
      signerName: 'Orrin Vasek',
      signerRole: 'vehicle_owner',
      mark: { kind: 'typed', name: 'Orrin Vasek', confirmed: true },
      overrideReason: '',
      device: 'a phone',
    }),
  );
  return acceptanceId;
}

/** SHA-256 by OpenSSL, through Node. */
export function sha256(of: string | Buffer): string {
  return createHash('sha256').update(of).digest('hex');
}

/** RFC 8032 by OpenSSL, through Node: none of the product’s code takes part. `publicKey` is 32 bytes in hex. */
export function isSignedByKey(text: string, signature: string, publicKey: string): boolean {
  // RFC 8410 section 4: the header of a SubjectPublicKeyInfo of Ed25519.
  const der = Buffer.concat([Buffer.from('302a300506032b6570032100', 'hex'), Buffer.from(publicKey, 'hex')]);
  const key = createPublicKey({ key: der, format: 'der', type: 'spki' });
  return verify(null, Buffer.from(text, 'utf8'), key, Buffer.from(signature, 'hex'));
}

/** RFC 6962 section 2.1, written out once more. */
export function rootOf(leaves: readonly Buffer[]): string {
  const hash = (...parts: readonly Buffer[]) => createHash('sha256').update(Buffer.concat(parts)).digest();
  const root = (of: readonly Buffer[]): Buffer => {
    const [only] = of;
    if (of.length === 1 && only !== undefined) return hash(Buffer.of(0), only);
    let split = 1;
    while (split * 2 < of.length) split *= 2;
    return hash(Buffer.of(1), root(of.slice(0, split)), root(of.slice(split)));
  };
  return root(leaves).toString('hex');
}
