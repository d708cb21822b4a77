import {
  findDecision,
  findVersionToSeal,
  listNamesOf,
  type StoredDecision,
  type TenantTransaction,
} from '@grainwright/db';
import type { DecisionId, SealedApproval } from '@grainwright/domain';
import { frozenText, sealedWork, strokesDigest } from './sealed-work.ts';

/** An answer that said yes to something, with the estimate that it is to and what stood on the page. */
export async function sealedApproval(tx: TenantTransaction, id: DecisionId): Promise<SealedApproval> {
  const answered = await findDecision(tx, id);
  const version = answered === null ? null : await findVersionToSeal(tx, answered.decision.versionId);
  if (answered === null || version === null) throw new Error('there is no such answer');
  const { decision, lines } = answered;
  return {
    format: 'sealed-approval-1',
    ...(await sealedWork(tx, decision.workOrderId)),
    decision: await answerOf(tx, answered),
    version: {
      id: version.id,
      number: version.number,
      estimate: frozenText(version.content, version.digest),
    },
    currency: version.currency,
    lines: lines.map(({ lineId, answer, reason, netMinor }) => ({
      line: lineId,
      answer,
      reason,
      netMinor: netMinor.toString(),
    })),
    taxMinor: decision.taxMinor.toString(),
    totalMinor: decision.totalMinor.toString(),
    seen:
      decision.seen === null || decision.seenDigest === null
        ? null
        : frozenText(decision.seen, decision.seenDigest),
  };
}

async function answerOf(
  tx: TenantTransaction,
  { decision, decidedByName, answeredFor, signature }: StoredDecision,
): Promise<SealedApproval['decision']> {
  const { recordedBy } = decision;
  const names = await listNamesOf(tx, recordedBy === null ? [] : [recordedBy]);
  return {
    id: decision.id,
    decidedAt: decision.decidedAt,
    given: decision.given,
    decidedBy: decidedByName,
    inPlaceOf: answeredFor?.name ?? null,
    recordedBy: recordedBy === null ? null : (names.get(recordedBy) ?? null),
    rule: decision.ruleText,
    signature:
      signature === null
        ? null
        : {
            name: signature.signerName,
            method: signature.method,
            strokesDigest: strokesDigest(signature.strokes),
          },
  };
}
