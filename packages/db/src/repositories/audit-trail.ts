import type {
  AccountId,
  Instant,
  InvoiceId,
  JsonValue,
  PersonId,
  StatementId,
  WorkOrderId,
} from '@grainwright/domain';
import { and, asc, desc, eq, type SQL, sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { people } from '../schema/accounts.ts';
import { auditRecords } from '../schema/audit.ts';
import { auditLinks } from '../schema/seals.ts';

/** Who did what, as an account may read it too. */
export interface TrailRow {
  readonly id: string;
  readonly at: Instant;
  /** By the clock of the phone that it was done on without signal; null where it was done here and now. */
  readonly madeOnPhoneAt: Instant | null;
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

/** Where a page of a trail begins: before or after a record, by its id; by neither it is the newest page. */
export interface TrailPlace {
  readonly before: string | null;
  readonly after: string | null;
}

/** A part of a trail, the oldest row first. */
export interface TrailPage<Row extends TrailRow> {
  readonly rows: readonly Row[];
  /** The record before which there are more; null where it begins here. */
  readonly earlier: string | null;
  /** The record after which there are more; null where it ends here. */
  readonly later: string | null;
}

const trailRowsMost = 200;

const shown = {
  id: auditRecords.id,
  at: auditRecords.at,
  madeOnPhoneAt: auditRecords.madeOnPhoneAt,
  action: auditRecords.action,
  subjectKind: auditRecords.subjectKind,
  subjectId: auditRecords.subjectId,
  personId: auditRecords.personId,
  accountId: auditRecords.accountId,
  personName: people.name,
};

const isPerson = and(eq(people.tenantId, auditRecords.tenantId), eq(people.id, auditRecords.personId));

/** What the transaction's account may read of it. */
export function listShownTrail(
  tx: TenantTransaction,
  subject: TrailSubject,
  place: TrailPlace,
): Promise<TrailPage<TrailRow>> {
  return pageOf(
    place,
    tx
      .select(shown)
      .from(auditRecords)
      .leftJoin(people, isPerson)
      .where(and(eq(auditRecords.tenantId, tx.tenantId), isAbout(tx, subject, shownParts), isPast(tx, place)))
      .orderBy(...orderTowards(place))
      .limit(trailRowsMost + 1),
  );
}

/** All of it, for the staff. */
export function listWholeTrail(
  tx: TenantTransaction,
  subject: TrailSubject,
  place: TrailPlace,
): Promise<TrailPage<WholeTrailRow>> {
  const parts = [...shownParts, ...partsOfTheStaff];
  return pageOf(
    place,
    tx
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
      .where(and(eq(auditRecords.tenantId, tx.tenantId), isAbout(tx, subject, parts), isPast(tx, place)))
      .orderBy(...orderTowards(place))
      .limit(trailRowsMost + 1),
  );
}

/** The rows beyond the record that the place names, on its side. */
function isPast(tx: TenantTransaction, { before, after }: TrailPlace): SQL | undefined {
  const named = before ?? after;
  if (named === null) return undefined;
  const record = sql`(select r.at, r.id from ${auditRecords} as r where r.tenant_id = ${tx.tenantId}::uuid and r.id = ${named}::uuid)`;
  const row = sql`(${auditRecords.at}, ${auditRecords.id})`;
  return before === null ? sql`${row} > ${record}` : sql`${row} < ${record}`;
}

/** Away from where the page begins. */
function orderTowards({ before, after }: TrailPlace): readonly SQL[] {
  const way = before === null && after !== null ? asc : desc;
  return [way(auditRecords.at), way(auditRecords.id)];
}

/** One row more than a page has was asked for, to know whether there are more. */
async function pageOf<Row extends TrailRow>(
  { before, after }: TrailPlace,
  asked: PromiseLike<readonly Row[]>,
): Promise<TrailPage<Row>> {
  const found = await asked;
  const isLonger = found.length > trailRowsMost;
  const page = found.slice(0, trailRowsMost);
  const isForward = before === null && after !== null;
  const rows = isForward ? page : page.toReversed();
  const first = rows[0]?.id ?? null;
  const last = rows.at(-1)?.id ?? null;
  return {
    rows,
    earlier: isForward || isLonger ? first : null,
    later: before !== null || (isForward && isLonger) ? last : null,
  };
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
const partsOfTheStaff = ['work_order_lines', 'access_links', 'recordings'] as const;

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
