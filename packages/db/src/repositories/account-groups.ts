import type { AccountGroupId, AccountId } from '@grainwright/domain';
import { and, asc, eq, sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { accountGroups, accounts } from '../schema/accounts.ts';

export type AccountGroupRow = typeof accountGroups.$inferSelect;

/** False when the id or the name is taken. */
export async function insertAccountGroup(
  tx: TenantTransaction,
  group: Omit<AccountGroupRow, 'tenantId'>,
): Promise<boolean> {
  const rows = await tx
    .insert(accountGroups)
    .values({ tenantId: tx.tenantId, ...group })
    .onConflictDoNothing()
    .returning({ id: accountGroups.id });
  return rows.length === 1;
}

export async function findAccountGroup(
  tx: TenantTransaction,
  id: AccountGroupId,
): Promise<AccountGroupRow | null> {
  const [row] = await tx
    .select()
    .from(accountGroups)
    .where(and(eq(accountGroups.tenantId, tx.tenantId), eq(accountGroups.id, id)));
  return row ?? null;
}

/** By name; a thousand at most. */
export async function listAccountGroupRows(tx: TenantTransaction): Promise<readonly AccountGroupRow[]> {
  return tx
    .select()
    .from(accountGroups)
    .where(eq(accountGroups.tenantId, tx.tenantId))
    .orderBy(asc(accountGroups.name), asc(accountGroups.id))
    .limit(1000);
}

/** Accounts that this one took over, by name; a hundred at most. */
export async function listPredecessors(
  tx: TenantTransaction,
  successorId: AccountId,
): Promise<readonly { readonly id: AccountId; readonly name: string }[]> {
  return tx
    .select({ id: accounts.id, name: accounts.name })
    .from(accounts)
    .where(and(eq(accounts.tenantId, tx.tenantId), eq(accounts.successorId, successorId)))
    .orderBy(asc(accounts.name), asc(accounts.id))
    .limit(100);
}

/** Until the transaction ends nobody else gives an account of this tenant a short name: looking first is enough then. */
export async function lockAccountShortNames(tx: TenantTransaction): Promise<void> {
  await tx.execute(sql`select pg_advisory_xact_lock(hashtextextended(${`account names ${tx.tenantId}`}, 0))`);
}
