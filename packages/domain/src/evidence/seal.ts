import { utf8ToBytes } from '@noble/hashes/utils.js';
import type { Day, Instant } from '../dates.ts';
import type { TenantId, WorkOrderId } from '../ids.ts';
import { canonicalJson, type JsonValue } from './canonical-json.ts';
import { digestHex } from './digest.ts';
import { leafHash } from './merkle-tree.ts';

/** What gets a seal, in the words for it. `key` is the change of the signing key, sealed with the key before it. */
export const sealKinds = {
  approval: 'approval',
  acceptance: 'acceptance',
  release: 'release without a signature',
  credit: 'credit note',
  rework: 'rework',
  key: 'change of the signing key',
} as const satisfies Record<string, string>;

export type SealKind = keyof typeof sealKinds;

/** One link of a tenant's chain of seals. Digests are SHA-256 in lower-case hex. */
export interface Seal {
  readonly tenantId: TenantId;
  /** Its place in the tenant's chain, counted from 1. */
  readonly number: number;
  /** The digest of the text of the seal before it; null for the first. */
  readonly previous: string | null;
  readonly kind: SealKind;
  /** The id of what is sealed: a decision, an acceptance, a release, a credit note, a rework's work order, a key. */
  readonly subjectId: string;
  readonly workOrderId: WorkOrderId | null;
  /** When the sealed thing happened, and when the seal was put on it. */
  readonly happenedAt: Instant;
  readonly sealedAt: Instant;
  /** The digest of the content's canonical text. */
  readonly contentDigest: string;
  /** The id of the key that signs it. */
  readonly keyId: string;
}

/** The canonical text of a seal: what its digest and its signature are taken of, and a leaf of the day's tree. */
export function sealText(seal: Seal): string {
  return canonicalJson({
    format: 'seal-1',
    tenant: seal.tenantId,
    number: seal.number,
    previous: seal.previous,
    kind: seal.kind,
    subject: seal.subjectId,
    workOrder: seal.workOrderId,
    happenedAt: seal.happenedAt,
    sealedAt: seal.sealedAt,
    content: seal.contentDigest,
    key: seal.keyId,
  });
}

/** The leaf that stands for a seal in the tree of its day. */
export function sealLeafHash(text: string): string {
  return leafHash(utf8ToBytes(text));
}

/** The seals of one day of a tenant under one root (RFC 6962), chained to the day before that had any. */
export interface SealDay {
  readonly tenantId: TenantId;
  readonly day: Day;
  /** The number of the day's first seal, and how many there are. */
  readonly firstNumber: number;
  readonly size: number;
  readonly root: string;
  /** The digest of the text of the sealed day before it; null for the first. */
  readonly previous: string | null;
  /** The newest link of the chain of audit records when the day was closed; null while there was none. */
  readonly audit: { readonly number: number; readonly sha256: string } | null;
  readonly keyId: string;
}

/** The canonical text of a sealed day: signed like a seal; its digest is what statements print. */
export function sealDayText(day: SealDay): string {
  return canonicalJson({
    format: 'seal-day-1',
    tenant: day.tenantId,
    day: day.day,
    firstNumber: day.firstNumber,
    size: day.size,
    root: day.root,
    previous: day.previous,
    audit: day.audit,
    key: day.keyId,
  });
}

/** One link of a tenant's chain of audit records; `record` is the digest of the record's canonical text. */
export interface AuditLink {
  readonly tenantId: TenantId;
  readonly number: number;
  readonly previous: string | null;
  readonly record: string;
}

/** The digest that chains an audit record to all before it. */
export function auditLinkDigest(link: AuditLink): string {
  return digestHex(
    canonicalJson({
      format: 'audit-link-1',
      tenant: link.tenantId,
      number: link.number,
      previous: link.previous,
      record: link.record,
    } satisfies JsonValue),
  );
}
