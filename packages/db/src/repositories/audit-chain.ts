import type { AuditedFact, Instant } from '@grainwright/domain';
import { and, asc, eq, gt, type SQL, sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { auditRecords } from '../schema/audit.ts';
import { auditLinks, auditWaiting } from '../schema/seals.ts';

export type AuditLinkRow = Omit<typeof auditLinks.$inferSelect, 'tenantId'>;

export async function hasAuditWaiting(tx: TenantTransaction): Promise<boolean> {
  const rows = await tx
    .select({ id: auditWaiting.auditId })
    .from(auditWaiting)
    .where(eq(auditWaiting.tenantId, tx.tenantId))
    .limit(1);
  return rows.length > 0;
}

/** Records that are in no chain yet, the oldest first. */
export function listAuditWaiting(tx: TenantTransaction, limit: number): Promise<readonly AuditedFact[]> {
  return tx
    .select(factColumns)
    .from(auditWaiting)
    .innerJoin(auditRecords, isRecordOf(auditWaiting.tenantId, auditWaiting.auditId))
    .where(eq(auditWaiting.tenantId, tx.tenantId))
    .orderBy(asc(auditRecords.at), asc(auditRecords.id))
    .limit(limit);
}

/** Adds a link for each record, in this order; the database computes the links. Lock the chain first. */
export async function chainAuditRecords(
  tx: TenantTransaction,
  links: readonly Pick<AuditLinkRow, 'auditId' | 'recordSha256'>[],
  at: Instant,
): Promise<void> {
  const ids = list(links.map(({ auditId }) => auditId));
  const records = list(links.map(({ recordSha256 }) => recordSha256));
  await tx.execute(sql`select chain_audit_records(${ids}::uuid[], ${records}::text[], ${at}::timestamptz)`);
}

/** Links behind a number, in their order, each with its record; null where that is gone. */
export function listAuditLinksAfter(
  tx: TenantTransaction,
  after: number,
  limit: number,
): Promise<readonly { readonly link: AuditLinkRow; readonly fact: AuditedFact | null }[]> {
  return tx
    .select({
      link: {
        number: auditLinks.number,
        auditId: auditLinks.auditId,
        previous: auditLinks.previous,
        recordSha256: auditLinks.recordSha256,
        sha256: auditLinks.sha256,
        chainedAt: auditLinks.chainedAt,
      },
      fact: factColumns,
    })
    .from(auditLinks)
    .leftJoin(auditRecords, isRecordOf(auditLinks.tenantId, auditLinks.auditId))
    .where(and(eq(auditLinks.tenantId, tx.tenantId), gt(auditLinks.number, after)))
    .orderBy(asc(auditLinks.number))
    .limit(limit);
}

/** Audit records that are neither chained nor waiting for it: somebody has tampered. */
export async function countUnchained(tx: TenantTransaction): Promise<number> {
  const [row] = await tx.execute<{ lost: string }>(sql`
    select count(*) as lost from audit_records r where r.tenant_id = ${tx.tenantId}::uuid
      and not exists (select from audit_links l where l.tenant_id = r.tenant_id and l.audit_id = r.id)
      and not exists (select from audit_waiting w where w.tenant_id = r.tenant_id and w.audit_id = r.id)`);
  return Number(row?.lost ?? 0);
}

const factColumns = {
  id: auditRecords.id,
  at: auditRecords.at,
  personId: auditRecords.personId,
  accountId: auditRecords.accountId,
  action: auditRecords.action,
  subjectKind: auditRecords.subjectKind,
  subjectId: auditRecords.subjectId,
  detail: auditRecords.detail,
  fromAddress: auditRecords.fromAddress,
};

function isRecordOf(
  tenantId: typeof auditLinks.tenantId | typeof auditWaiting.tenantId,
  auditId: typeof auditLinks.auditId | typeof auditWaiting.auditId,
): SQL | undefined {
  return and(eq(auditRecords.tenantId, tenantId), eq(auditRecords.id, auditId));
}

/** An array literal of Postgres: uuids and digests need no quoting. */
function list(items: readonly string[]): string {
  return `{${items.join(',')}}`;
}
