import type { AccountId } from '@grainwright/domain';
import { and, asc, eq, sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { accounts } from '../schema/accounts.ts';
import { accountPrices, priceTerms, rates } from '../schema/prices.ts';

export type RateRow = typeof rates.$inferSelect;
export type AccountPriceRow = typeof accountPrices.$inferSelect;
export type PriceTermsRow = typeof priceTerms.$inferSelect;

type New<Row> = Omit<Row, 'tenantId'>;

/** Until the transaction ends nobody else changes this tenant's price book, so that a check for overlaps holds. */
export async function lockPriceBook(tx: TenantTransaction): Promise<void> {
  await tx.execute(sql`select pg_advisory_xact_lock(hashtextextended(${`price book ${tx.tenantId}`}, 0))`);
}

/** Inserts after `lockPriceBook` and a look at `listRateRows`; an overlap or a taken id is a broken invariant here. */
export async function insertRates(tx: TenantTransaction, added: readonly New<RateRow>[]): Promise<void> {
  await tx.insert(rates).values(added.map((rate) => ({ tenantId: tx.tenantId, ...rate })));
}

/** Every period of every rate. */
export async function listRateRows(tx: TenantTransaction): Promise<readonly RateRow[]> {
  return tx
    .select()
    .from(rates)
    .where(eq(rates.tenantId, tx.tenantId))
    .orderBy(asc(rates.code), asc(rates.validFrom));
}

/** Every period of one rate, the first one first. */
export async function listRatesOfCode(tx: TenantTransaction, code: string): Promise<readonly RateRow[]> {
  return tx
    .select()
    .from(rates)
    .where(and(eq(rates.tenantId, tx.tenantId), eq(rates.code, code)))
    .orderBy(asc(rates.validFrom));
}

export async function findRate(tx: TenantTransaction, id: string): Promise<RateRow | null> {
  const [row] = await tx
    .select()
    .from(rates)
    .where(and(eq(rates.tenantId, tx.tenantId), eq(rates.id, id)));
  return row ?? null;
}

/** Whether the price book has, or had, a rate of this code. */
export async function hasRate(tx: TenantTransaction, code: string): Promise<boolean> {
  const rows = await tx
    .select({ id: rates.id })
    .from(rates)
    .where(and(eq(rates.tenantId, tx.tenantId), eq(rates.code, code)))
    .limit(1);
  return rows.length === 1;
}

export async function insertAccountPrice(tx: TenantTransaction, price: New<AccountPriceRow>): Promise<void> {
  await tx.insert(accountPrices).values({ tenantId: tx.tenantId, ...price });
}

export async function findAccountPrice(tx: TenantTransaction, id: string): Promise<AccountPriceRow | null> {
  const [row] = await tx
    .select()
    .from(accountPrices)
    .where(and(eq(accountPrices.tenantId, tx.tenantId), eq(accountPrices.id, id)));
  return row ?? null;
}

/** Every period of one account's own prices. */
export async function listAccountPrices(
  tx: TenantTransaction,
  accountId: AccountId,
): Promise<readonly AccountPriceRow[]> {
  return tx
    .select()
    .from(accountPrices)
    .where(and(eq(accountPrices.tenantId, tx.tenantId), eq(accountPrices.accountId, accountId)))
    .orderBy(asc(accountPrices.code), asc(accountPrices.validFrom));
}

export interface NamedAccountPrice extends AccountPriceRow {
  readonly accountName: string;
}

/** All accounts' own prices, by account. */
export async function listAllAccountPrices(
  tx: TenantTransaction,
  limit: number,
): Promise<readonly NamedAccountPrice[]> {
  const rows = await tx
    .select({ price: accountPrices, accountName: accounts.name })
    .from(accountPrices)
    .innerJoin(
      accounts,
      and(eq(accounts.tenantId, accountPrices.tenantId), eq(accounts.id, accountPrices.accountId)),
    )
    .where(eq(accountPrices.tenantId, tx.tenantId))
    .orderBy(asc(accounts.name), asc(accountPrices.code), asc(accountPrices.validFrom))
    .limit(limit);
  return rows.map(({ price, accountName }) => ({ ...price, accountName }));
}

export async function insertPriceTerms(tx: TenantTransaction, terms: New<PriceTermsRow>): Promise<void> {
  await tx.insert(priceTerms).values({ tenantId: tx.tenantId, ...terms });
}

export async function listPriceTerms(tx: TenantTransaction): Promise<readonly PriceTermsRow[]> {
  return tx
    .select()
    .from(priceTerms)
    .where(eq(priceTerms.tenantId, tx.tenantId))
    .orderBy(asc(priceTerms.validFrom));
}
