import type { AccountId, Instant, JsonValue, PersonId } from '@grainwright/domain';
import { and, asc, desc, eq, sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { auditRecords } from '../schema/audit.ts';

export interface AuditRecord {
  readonly id: string;
  readonly at: Instant;
  /** Null where somebody who is nobody of ours did it, by a link. */
  readonly personId: PersonId | null;
  readonly accountId: AccountId | null;
  readonly action: string;
  readonly subjectKind: string;
  readonly subjectId: string;
  /** What was before and after, as far as it says something. */
  readonly detail: JsonValue;
  readonly fromAddress: string;
}

/** Whether there is a record of this action on the subject whose detail names this value. */
export async function hasAuditNaming(
  tx: TenantTransaction,
  subjectId: string,
  { action, name, value }: { readonly action: string; readonly name: string; readonly value: string },
): Promise<boolean> {
  const rows = await tx
    .select({ id: auditRecords.id })
    .from(auditRecords)
    .where(
      and(
        eq(auditRecords.tenantId, tx.tenantId),
        eq(auditRecords.subjectId, subjectId),
        eq(auditRecords.action, action),
        sql`${auditRecords.detail} ->> ${name} = ${value}`,
      ),
    )
    .limit(1);
  return rows.length > 0;
}

/** When something was done to the subject last: received here, and by the phone that it was done on, if it says so. */
export async function findLastDone(
  tx: TenantTransaction,
  subjectId: string,
  action: string,
): Promise<{ readonly at: Instant; readonly madeOnPhoneAt: Instant | null } | null> {
  const [row] = await tx
    .select({ at: auditRecords.at, madeOnPhoneAt: auditRecords.madeOnPhoneAt })
    .from(auditRecords)
    .where(doneTo(tx, subjectId, action))
    .orderBy(desc(auditRecords.at), desc(auditRecords.id))
    .limit(1);
  return row ?? null;
}

export async function insertAuditRecord(tx: TenantTransaction, record: AuditRecord): Promise<void> {
  await tx.insert(auditRecords).values({ tenantId: tx.tenantId, ...record });
}

/** What the first record of this action on the subject says; null when it was never done. */
export async function findAuditDetail(
  tx: TenantTransaction,
  subjectId: string,
  action: string,
): Promise<JsonValue | null> {
  const [row] = await tx
    .select({ detail: auditRecords.detail })
    .from(auditRecords)
    .where(doneTo(tx, subjectId, action))
    .orderBy(asc(auditRecords.at), asc(auditRecords.id))
    .limit(1);
  return row?.detail ?? null;
}

function doneTo(tx: TenantTransaction, subjectId: string, action: string) {
  return and(
    eq(auditRecords.tenantId, tx.tenantId),
    eq(auditRecords.subjectId, subjectId),
    eq(auditRecords.action, action),
  );
}
