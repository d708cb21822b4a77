import {
  type AccountId,
  type Day,
  firstDay,
  lastDay,
  monthOf,
  type StandingApprovalId,
  type VisitId,
} from '@grainwright/domain';
import { and, asc, between, desc, eq, gte, isNull, lte, ne, or, sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { standingApprovals } from '../schema/accounts.ts';
import { decisions, workOrders } from '../schema/work-orders.ts';

export type StandingApprovalRow = typeof standingApprovals.$inferSelect;

/**
 * Until the transaction ends nobody else answers by rule for the account or changes its standing approvals: what was
 * approved of a visit and a month before can't grow meanwhile.
 */
export async function lockStandingApprovals(tx: TenantTransaction, accountId: AccountId): Promise<void> {
  const key = `standing approvals ${tx.tenantId} ${accountId}`;
  await tx.execute(sql`select pg_advisory_xact_lock(hashtextextended(${key}, 0))`);
}

/** Inserts after `lockStandingApprovals` and a look at the others; an overlap is a broken invariant here. */
export async function insertStandingApproval(
  tx: TenantTransaction,
  approval: Omit<StandingApprovalRow, 'tenantId'>,
): Promise<void> {
  await tx.insert(standingApprovals).values({ tenantId: tx.tenantId, ...approval });
}

export async function findStandingApproval(
  tx: TenantTransaction,
  id: StandingApprovalId,
): Promise<StandingApprovalRow | null> {
  const [row] = await tx
    .select()
    .from(standingApprovals)
    .where(and(eq(standingApprovals.tenantId, tx.tenantId), eq(standingApprovals.id, id)));
  return row ?? null;
}

/** The account's standing approval of a day, of which there is at most one. */
export async function findStandingApprovalOn(
  tx: TenantTransaction,
  accountId: AccountId,
  on: Day,
): Promise<StandingApprovalRow | null> {
  const [row] = await tx
    .select()
    .from(standingApprovals)
    .where(
      and(
        eq(standingApprovals.tenantId, tx.tenantId),
        eq(standingApprovals.accountId, accountId),
        lte(standingApprovals.validFrom, on),
        or(isNull(standingApprovals.validTo), gte(standingApprovals.validTo, on)),
      ),
    )
    .orderBy(asc(standingApprovals.id))
    .limit(1);
  return row ?? null;
}

/** The account's standing approvals, the newest first; three hundred at most. */
export async function listStandingApprovalRows(
  tx: TenantTransaction,
  accountId: AccountId,
): Promise<readonly StandingApprovalRow[]> {
  return tx
    .select()
    .from(standingApprovals)
    .where(and(eq(standingApprovals.tenantId, tx.tenantId), eq(standingApprovals.accountId, accountId)))
    .orderBy(desc(standingApprovals.validFrom), desc(standingApprovals.id))
    .limit(300);
}

export async function setStandingApprovalEnd(
  tx: TenantTransaction,
  id: StandingApprovalId,
  validTo: Day,
): Promise<void> {
  await tx
    .update(standingApprovals)
    .set({ validTo })
    .where(and(eq(standingApprovals.tenantId, tx.tenantId), eq(standingApprovals.id, id)));
}

/** What was approved by rule of a visit, and of the account in the month of a day; what was voided counts no more. */
export async function sumApprovedByRule(
  tx: TenantTransaction,
  of: { readonly accountId: AccountId; readonly visitId: VisitId; readonly day: Day },
): Promise<{ readonly visitMinor: bigint; readonly monthMinor: bigint }> {
  const month = monthOf(of.day);
  const [row] = await tx
    .select({
      visit: sql<string>`coalesce(sum(${decisions.comparedMinor})
        filter (where ${eq(workOrders.visitId, of.visitId)}), 0)`,
      month: sql<string>`coalesce(sum(${decisions.comparedMinor})
        filter (where ${between(decisions.ruleDay, firstDay(month), lastDay(month))}), 0)`,
    })
    .from(decisions)
    .innerJoin(
      workOrders,
      and(eq(workOrders.tenantId, decisions.tenantId), eq(workOrders.decisionId, decisions.id)),
    )
    .where(
      and(
        eq(decisions.tenantId, tx.tenantId),
        eq(decisions.accountId, of.accountId),
        eq(decisions.given, 'by_rule'),
        ne(workOrders.state, 'void'),
        or(eq(workOrders.visitId, of.visitId), between(decisions.ruleDay, firstDay(month), lastDay(month))),
      ),
    );
  if (row === undefined) throw new Error('a sum answered nothing');
  return { visitMinor: BigInt(row.visit), monthMinor: BigInt(row.month) };
}
