import { randomBytes } from 'node:crypto';
import {
  findBusiness,
  listSigningKeys,
  type SealRequestRow,
  type SealRow,
  type SigningKeyRow,
  type TenantTransaction,
} from '@grainwright/db';
import {
  type AcceptanceId,
  type CreditNoteId,
  canonicalJson,
  type DecisionId,
  digestHex,
  type MissingSignatureId,
  type SealedContent,
  type SealedKey,
  type SealKind,
  toId,
  type WithheldFacts,
  type WorkOrderId,
} from '@grainwright/domain';
import type { KeyInUse } from './key-in-use.ts';
import { sealedAcceptance } from './sealed-acceptance.ts';
import { sealedApproval } from './sealed-approval.ts';
import { sealedCredit } from './sealed-credit.ts';
import { sealedRelease } from './sealed-release.ts';
import { sealedRework } from './sealed-rework.ts';

export interface ContentToSeal {
  /** Canonical JSON. */
  readonly text: string;
  /** As `text`, of what the staff alone may show; null where there is nothing of the kind. */
  readonly withheld: string | null;
}

/** What goes under the seal of a record, from what is on record of it now. Throws where that is not whole. */
export async function contentToSeal(
  tx: TenantTransaction,
  request: SealRequestRow,
  key: KeyInUse,
): Promise<ContentToSeal> {
  if (request.kind === 'acceptance') {
    const id = toId<AcceptanceId>(request.subjectId);
    const { content, withheld } = await sealedAcceptance(tx, id, randomBytes(16).toString('hex'));
    return { text: canonicalJson(content), withheld: withheldText(withheld, content.withheldDigest) };
  }
  const content =
    request.kind === 'key'
      ? await sealedKey(tx, request.subjectId, key)
      : await plainContent(tx, request.kind, request.subjectId);
  return { text: canonicalJson(content), withheld: null };
}

/** What would go under the seal of a record now, to be held against what did. */
export async function contentAgain(
  tx: TenantTransaction,
  { kind, subjectId, withheld }: Pick<SealRow, 'kind' | 'subjectId' | 'withheld'>,
  sealed: SealedContent,
  keys: readonly SigningKeyRow[],
): Promise<SealedContent> {
  if (kind === 'acceptance')
    return (await sealedAcceptance(tx, toId<AcceptanceId>(subjectId), nonceOf(withheld))).content;
  if (kind !== 'key') return plainContent(tx, kind, subjectId);
  const key = keys.find((each) => each.id === subjectId);
  if (key === undefined || sealed.format !== 'sealed-key-1') throw new Error('there is no such key');
  return { ...sealed, key: { id: key.keyId, publicKey: key.publicKey, madeAt: key.madeAt } };
}

/** Of what is withheld, the part that nobody can guess. */
function nonceOf(withheld: string | null): string {
  const read: unknown = withheld === null ? null : JSON.parse(withheld);
  if (read === null || typeof read !== 'object' || !('nonce' in read) || typeof read.nonce !== 'string')
    throw new Error('what the business keeps to itself is not there');
  return read.nonce;
}

function withheldText(withheld: WithheldFacts, digest: string): string {
  const text = canonicalJson(withheld);
  if (digestHex(text) !== digest) throw new Error('what is withheld is not what its digest says');
  return text;
}

function plainContent(
  tx: TenantTransaction,
  kind: Exclude<SealKind, 'acceptance' | 'key'>,
  subjectId: string,
): Promise<SealedContent> {
  switch (kind) {
    case 'approval':
      return sealedApproval(tx, toId<DecisionId>(subjectId));
    case 'release':
      return sealedRelease(tx, toId<MissingSignatureId>(subjectId));
    case 'credit':
      return sealedCredit(tx, toId<CreditNoteId>(subjectId));
    case 'rework':
      return sealedRework(tx, toId<WorkOrderId>(subjectId));
  }
}

async function sealedKey(tx: TenantTransaction, id: string, key: KeyInUse): Promise<SealedKey> {
  const business = await findBusiness(tx);
  const next = (await listSigningKeys(tx)).find((each) => each.id === id);
  if (next === undefined || business === null) throw new Error('there is no such key');
  const before = key.takesOverFrom ?? key;
  return {
    format: 'sealed-key-1',
    business: { name: business.name },
    cause: next.id === key.id ? 'secret_changed' : 'rotated',
    key: { id: next.keyId, publicKey: next.publicKey, madeAt: next.madeAt },
    before: { id: before.keyId, publicKey: before.publicKey },
  };
}
