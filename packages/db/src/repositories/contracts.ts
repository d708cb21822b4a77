import type { AccountId } from '@grainwright/domain';
import { and, asc, eq } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { accounts } from '../schema/accounts.ts';
import { contracts } from '../schema/prices.ts';

export type ContractRow = typeof contracts.$inferSelect;

/** Inserts after `lockPriceBook` and a look at the other periods; an overlap is a broken invariant here. */
export async function insertContract(
  tx: TenantTransaction,
  contract: Omit<ContractRow, 'tenantId'>,
): Promise<void> {
  await tx.insert(contracts).values({ tenantId: tx.tenantId, ...contract });
}

export async function findContract(tx: TenantTransaction, id: string): Promise<ContractRow | null> {
  const [row] = await tx
    .select()
    .from(contracts)
    .where(and(eq(contracts.tenantId, tx.tenantId), eq(contracts.id, id)));
  return row ?? null;
}

/** Every contract of an account, the first one first. */
export async function listContracts(
  tx: TenantTransaction,
  accountId: AccountId,
): Promise<readonly ContractRow[]> {
  return tx
    .select()
    .from(contracts)
    .where(and(eq(contracts.tenantId, tx.tenantId), eq(contracts.accountId, accountId)))
    .orderBy(asc(contracts.validFrom));
}

export interface NamedContract extends ContractRow {
  readonly accountName: string;
}

/** All accounts' contracts, by account. */
export async function listAllContracts(
  tx: TenantTransaction,
  limit: number,
): Promise<readonly NamedContract[]> {
  const rows = await tx
    .select({ contract: contracts, accountName: accounts.name })
    .from(contracts)
    .innerJoin(accounts, and(eq(accounts.tenantId, contracts.tenantId), eq(accounts.id, contracts.accountId)))
    .where(eq(contracts.tenantId, tx.tenantId))
    .orderBy(asc(accounts.name), asc(contracts.validFrom))
    .limit(limit);
  return rows.map(({ contract, accountName }) => ({ ...contract, accountName }));
}
