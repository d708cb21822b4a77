import type { Instant } from '../dates.ts';
import { type AuditedFact, auditRecordText } from './audit-record.ts';
import { digestHex } from './digest.ts';
import { merkleRoot } from './merkle-tree.ts';
import { readSealed } from './read-sealed.ts';
import {
  type AuditLink,
  auditLinkDigest,
  type Seal,
  type SealDay,
  sealDayText,
  sealLeafHash,
  sealText,
} from './seal.ts';
import { type SealedContent, type SealedKey, sealedFormats } from './sealed-content.ts';
import { isSignedBy } from './signed-text.ts';

/** A link as it is stored, with what its row says beside its text. */
export interface KeptSeal extends Seal {
  readonly text: string;
  readonly sha256: string;
  readonly content: string;
  readonly withheld: string | null;
  readonly signature: string;
}

export interface KeptDay extends SealDay {
  /** Its place among the days that have seals, counted from 1. */
  readonly number: number;
  readonly leaves: readonly string[];
  readonly text: string;
  readonly sha256: string;
  readonly signature: string;
}

/** How far a chain was walked. */
export interface Walked {
  readonly number: number;
  readonly sha256: string | null;
}

export interface WalkedSeals extends Walked {
  /** The key that signs the next seal; null where there never was one. */
  readonly keyId: string | null;
  /** Every key that has signed so far or may. */
  readonly known: ReadonlySet<string>;
  readonly sealedAt: Instant | null;
  /** What is no fault, and has to be known: keys that only vouch for themselves. */
  readonly notes: readonly string[];
}

export const beforeAnyLink: Walked = { number: 0, sha256: null };

export function beforeAnySeal(firstKeyId: string | null): WalkedSeals {
  const known = new Set(firstKeyId === null ? [] : [firstKeyId]);
  return { ...beforeAnyLink, keyId: firstKeyId, known, sealedAt: null, notes: [] };
}

/**
 * The chain with one seal more, or in a sentence why that seal can't be the next one. `keys` are public keys by their
 * ids, 64 hex digits each.
 */
export function walkSeal(
  seal: KeptSeal,
  walked: WalkedSeals,
  keys: ReadonlyMap<string, string>,
): WalkedSeals | string {
  const place = placeFault('seal', seal, walked);
  if (place !== null) return place;
  const name = `Seal ${seal.number}`;
  if (sealText(seal) !== seal.text) return `${name} says something else than its row: it was changed.`;
  if (digestHex(seal.text) !== seal.sha256)
    return `${name} has another digest than its text: it was changed.`;
  if (digestHex(seal.content) !== seal.contentDigest)
    return `What is under seal ${seal.number} is not what was sealed: it was changed.`;
  const content = readSealed(seal.content);
  if (content === null || content.format !== sealedFormats[seal.kind])
    return `What is under seal ${seal.number} is of another kind than the seal.`;
  if (seal.withheld !== null && !isWithheldOf(content, seal.withheld))
    return `What the business keeps to itself under seal ${seal.number} was changed.`;
  const introduced = content.format === 'sealed-key-1' ? content : null;
  const signer = introduced?.cause === 'secret_changed' ? introduced.key.id : walked.keyId;
  if (seal.keyId !== signer || (introduced !== null && introduced.before.id !== walked.keyId))
    return `${name} is signed by ${short(seal.keyId)}, which is not the key that was in use.`;
  if (!isSignedBy(seal, keys.get(seal.keyId) ?? ''))
    return `The signature of seal ${seal.number} is not its key’s.`;
  if (walked.sealedAt !== null && Date.parse(seal.sealedAt) < Date.parse(walked.sealedAt))
    return `${name} says that it is older than the one before it.`;
  return walkedTo(seal, walked, introduced);
}

function isWithheldOf(content: SealedContent, withheld: string): boolean {
  return content.format === 'sealed-acceptance-1' && content.withheldDigest === digestHex(withheld);
}

function walkedTo(seal: KeptSeal, walked: WalkedSeals, introduced: SealedKey | null): WalkedSeals {
  const { number, sha256, sealedAt } = seal;
  if (introduced === null) return { ...walked, number, sha256, sealedAt };
  const keyId = introduced.key.id;
  const notes =
    introduced.cause === 'rotated'
      ? walked.notes
      : [
          ...walked.notes,
          `From seal ${number} on the key ${short(keyId)} signs, which only vouches for itself: what the one before it was made from was gone. What was printed before then ties the two together.`,
        ];
  return { number, sha256, sealedAt, keyId, known: new Set([...walked.known, keyId]), notes };
}

/** As `walkSeal`, for a day. `texts` are those of its seals, in their order. */
export function walkDay(
  day: KeptDay,
  walked: Walked & { readonly nextSeal: number },
  {
    texts,
    keys,
    known,
  }: {
    readonly texts: readonly string[];
    readonly keys: ReadonlyMap<string, string>;
    readonly known: ReadonlySet<string>;
  },
): (Walked & { readonly nextSeal: number }) | string {
  const place = placeFault('sealed day', day, walked);
  if (place !== null) return place;
  const name = `The sealed day ${day.day}`;
  if (sealDayText(day) !== day.text) return `${name} says something else than its row: it was changed.`;
  if (digestHex(day.text) !== day.sha256) return `${name} has another digest than its text: it was changed.`;
  if (day.firstNumber !== walked.nextSeal) return `${name} does not begin with seal ${walked.nextSeal}.`;
  const leaves = texts.map(sealLeafHash);
  if (leaves.length !== day.size || merkleRoot(leaves) !== day.root)
    return `${name} has another root than its seals: one of them was changed, left out or put in.`;
  if (leaves.join() !== day.leaves.join()) return `${name} lists other seals than it holds.`;
  if (!known.has(day.keyId) || !isSignedBy(day, keys.get(day.keyId) ?? ''))
    return `The signature of the sealed day ${day.day} is not that of a key of the business.`;
  return { number: day.number, sha256: day.sha256, nextSeal: day.firstNumber + day.size };
}

export interface KeptAuditLink extends AuditLink {
  readonly sha256: string;
  readonly auditId: string;
}

/** As `walkSeal`, for an audit record and its link; null stands for a record that is gone. */
export function walkAuditLink(
  link: KeptAuditLink,
  fact: AuditedFact | null,
  walked: Walked,
): Walked | string {
  const place = placeFault('link of the audit records', link, walked);
  if (place !== null) return place;
  if (auditLinkDigest(link) !== link.sha256)
    return `Link ${link.number} of the audit records has another digest than it should: it was changed.`;
  if (fact === null) return `The audit record ${link.auditId} of link ${link.number} is gone.`;
  if (digestHex(auditRecordText(fact)) !== link.record)
    return `The audit record ${link.auditId} of link ${link.number} was changed.`;
  return { number: link.number, sha256: link.sha256 };
}

/** Where the end of a chain is kept, its last link has to be. */
export function endFaults(what: string, head: Walked, walked: Walked): readonly string[] {
  return head.number === walked.number && head.sha256 === walked.sha256
    ? []
    : [`The chain of ${what} ends with ${walked.number}, and not with ${head.number} as it is kept to.`];
}

function placeFault(
  what: string,
  link: { readonly number: number; readonly previous: string | null },
  walked: Walked,
): string | null {
  if (link.number !== walked.number + 1) return `The ${what} ${walked.number + 1} is missing.`;
  if (link.previous === walked.sha256) return null;
  return `The ${what} ${link.number} does not follow the one before it: one of them was changed, left out or put in.`;
}

function short(keyId: string): string {
  return `${keyId.slice(0, 16)}…`;
}
