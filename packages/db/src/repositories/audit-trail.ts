import type {
  AccountId,
  Instant,
  InvoiceId,
  JsonValue,
  PersonId,
  StatementId,
  WorkOrderId,
} from '@grainwright/domain';
import { and, asc, eq, type SQL, sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { people } from '../schema/accounts.ts';
import { auditRecords } from '../schema/audit.ts';
import { auditLinks } from '../schema/seals.ts';

/** Who did what, as an account may read it too. */
export interface TrailRow {
  readonly id: string;
  readonly at: Instant;
  readonly action: string;
  readonly subjectKind: string;
  readonly subjectId: string;
  readonly personId: PersonId | null;
  /** The account in whose name it was done; null for the business, and for whoever came by an owner’s link. */
  readonly accountId: AccountId | null;
  readonly personName: string | null;
}

/** What the staff read besides. */
export interface WholeTrailRow extends TrailRow {
  readonly detail: JsonValue;
  readonly fromAddress: string;
  /** Its place in the chain; null while it waits for it. */
  readonly chainNumber: number | null;
}

/** What a trail is about, with everything that hangs on it. */
export type TrailSubject =
  | { readonly kind: 'work_order'; readonly id: WorkOrderId }
  | { readonly kind: 'invoice'; readonly id: InvoiceId }
  | { readonly kind: 'statement'; readonly id: StatementId };

const rowsMax = 1000;

const shown = {
  id: auditRecords.id,
  at: auditRecords.at,
  action: auditRecords.action,
  subjectKind: auditRecords.subjectKind,
  subjectId: auditRecords.subjectId,
  personId: auditRecords.personId,
  accountId: auditRecords.accountId,
  personName: people.name,
};

const isPerson = and(eq(people.tenantId, auditRecords.tenantId), eq(people.id, auditRecords.personId));

/** What the transaction's account may read of it, the oldest first. */
export function listShownTrail(tx: TenantTransaction, subject: TrailSubject): Promise<readonly TrailRow[]> {
  return tx
    .select(shown)
    .from(auditRecords)
    .leftJoin(people, isPerson)
    .where(and(eq(auditRecords.tenantId, tx.tenantId), isAbout(tx, subject, shownParts)))
    .orderBy(asc(auditRecords.at), asc(auditRecords.id))
    .limit(rowsMax);
}

/** All of it, for the staff, the oldest first. */
export function listWholeTrail(
  tx: TenantTransaction,
  subject: TrailSubject,
): Promise<readonly WholeTrailRow[]> {
  return tx
    .select({
      ...shown,
      detail: auditRecords.detail,
      fromAddress: auditRecords.fromAddress,
      chainNumber: auditLinks.number,
    })
    .from(auditRecords)
    .leftJoin(people, isPerson)
    .leftJoin(
      auditLinks,
      and(eq(auditLinks.tenantId, auditRecords.tenantId), eq(auditLinks.auditId, auditRecords.id)),
    )
    .where(
      and(eq(auditRecords.tenantId, tx.tenantId), isAbout(tx, subject, [...shownParts, ...partsOfTheStaff])),
    )
    .orderBy(asc(auditRecords.at), asc(auditRecords.id))
    .limit(rowsMax);
}

/** Tables whose rows hang on a work order, and may be what a record is about. */
const shownParts = [
  'estimate_versions',
  'decisions',
  'photos',
  'acceptances',
  'missing_signatures',
  'messages',
] as const;
const partsOfTheStaff = ['work_order_lines', 'access_links'] as const;

type Part = (typeof shownParts)[number] | (typeof partsOfTheStaff)[number];

function isAbout(tx: TenantTransaction, subject: TrailSubject, parts: readonly Part[]): SQL {
  const { id } = subject;
  const tenant = sql`tenant_id = ${tx.tenantId}::uuid`;
  switch (subject.kind) {
    case 'statement':
      return sql`${auditRecords.subjectId} = ${id}::uuid`;
    case 'invoice':
      return sql`${auditRecords.subjectId} in (select ${id}::uuid
        union all select id from credit_notes where ${tenant} and invoice_id = ${id}::uuid)`;
    case 'work_order': {
      const hanging = parts.map(
        (part) =>
          sql` union all select id from ${sql.identifier(part)} where ${tenant} and work_order_id = ${id}::uuid`,
      );
      return sql`${auditRecords.subjectId} in (select ${id}::uuid ${sql.join(hanging)}
        union all select visit_signature_id from acceptances where ${tenant} and work_order_id = ${id}::uuid
        union all select invoice_id from invoice_work_orders where ${tenant} and work_order_id = ${id}::uuid)`;
    }
  }
}
