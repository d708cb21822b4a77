import type { AccountId, Day } from '@grainwright/domain';
import { and, asc, eq, gte, inArray, isNull, lte, or } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { accounts, standingApprovals } from '../schema/accounts.ts';

/** What accounts ask of evidence, and what they agreed to beforehand on a day: what a phone needs to know of each. */
export async function listRulesOfAccounts(tx: TenantTransaction, accountIds: readonly AccountId[], on: Day) {
  if (accountIds.length === 0) return [];
  const inForce = and(
    eq(standingApprovals.tenantId, accounts.tenantId),
    eq(standingApprovals.accountId, accounts.id),
    lte(standingApprovals.validFrom, on),
    or(isNull(standingApprovals.validTo), gte(standingApprovals.validTo, on)),
  );
  const rows = await tx
    .select({ account: accounts, standing: standingApprovals })
    .from(accounts)
    .leftJoin(standingApprovals, inForce)
    .where(and(eq(accounts.tenantId, tx.tenantId), inArray(accounts.id, [...accountIds])))
    .orderBy(asc(accounts.id), asc(standingApprovals.id));
  // Two that overlap: the first counts, as where it is applied.
  return rows.filter((row, index) => rows[index - 1]?.account.id !== row.account.id);
}
