import type { Instant } from '../dates.ts';
import { canonicalJson, type JsonValue } from './canonical-json.ts';

/** Who did what, when, and from where. */
export interface AuditedFact {
  readonly id: string;
  readonly at: Instant;
  readonly personId: string | null;
  readonly accountId: string | null;
  readonly action: string;
  readonly subjectKind: string;
  readonly subjectId: string;
  readonly detail: JsonValue;
  readonly fromAddress: string;
}

/** The canonical text of an audit record: its digest is what the record's link in the chain names. */
export function auditRecordText(fact: AuditedFact): string {
  return canonicalJson({
    format: 'audit-record-1',
    id: fact.id,
    at: fact.at,
    person: fact.personId,
    account: fact.accountId,
    action: fact.action,
    subjectKind: fact.subjectKind,
    subject: fact.subjectId,
    detail: fact.detail,
    from: fact.fromAddress,
  });
}
