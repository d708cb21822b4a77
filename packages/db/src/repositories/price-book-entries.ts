import type { AccountId, Day } from '@grainwright/domain';
import { and, asc, eq, inArray, sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { accounts, taxAreas, tiers } from '../schema/accounts.ts';
import { accountPrices, careFactors, priceTerms, rates, taxClasses, taxRates } from '../schema/prices.ts';

export type TierRow = typeof tiers.$inferSelect;
export type TaxAreaRow = typeof taxAreas.$inferSelect;
export type RateRow = typeof rates.$inferSelect;
export type CareFactorRow = typeof careFactors.$inferSelect;
export type AccountPriceRow = typeof accountPrices.$inferSelect;
export type PriceTermsRow = typeof priceTerms.$inferSelect;
export type TaxRateRow = typeof taxRates.$inferSelect;
export type TaxClassesRow = typeof taxClasses.$inferSelect;

type New<Row> = Omit<Row, 'tenantId'>;

/** Until the transaction ends nobody else changes this tenant's price book, so that a check for overlaps holds. */
export async function lockPriceBook(tx: TenantTransaction): Promise<void> {
  await tx.execute(sql`select pg_advisory_xact_lock(hashtextextended(${`price book ${tx.tenantId}`}, 0))`);
}

/** False when the code is taken. */
export async function insertTier(tx: TenantTransaction, tier: New<TierRow>): Promise<boolean> {
  const rows = await tx
    .insert(tiers)
    .values({ tenantId: tx.tenantId, ...tier })
    .onConflictDoNothing()
    .returning({ code: tiers.code });
  return rows.length === 1;
}

export async function findTier(tx: TenantTransaction, code: string): Promise<TierRow | null> {
  const [row] = await tx
    .select()
    .from(tiers)
    .where(and(eq(tiers.tenantId, tx.tenantId), eq(tiers.code, code)));
  return row ?? null;
}

/** The smallest discount first. */
export async function listTiers(tx: TenantTransaction): Promise<readonly TierRow[]> {
  return tx
    .select()
    .from(tiers)
    .where(eq(tiers.tenantId, tx.tenantId))
    .orderBy(asc(tiers.discountPercent), asc(tiers.code));
}

/** False when the code is taken. */
export async function insertCareFactor(tx: TenantTransaction, factor: New<CareFactorRow>): Promise<boolean> {
  const rows = await tx
    .insert(careFactors)
    .values({ tenantId: tx.tenantId, ...factor })
    .onConflictDoNothing()
    .returning({ code: careFactors.code });
  return rows.length === 1;
}

export async function findCareFactor(tx: TenantTransaction, code: string): Promise<CareFactorRow | null> {
  const [row] = await tx
    .select()
    .from(careFactors)
    .where(and(eq(careFactors.tenantId, tx.tenantId), eq(careFactors.code, code)));
  return row ?? null;
}

export async function listCareFactors(tx: TenantTransaction): Promise<readonly CareFactorRow[]> {
  return tx
    .select()
    .from(careFactors)
    .where(eq(careFactors.tenantId, tx.tenantId))
    .orderBy(asc(careFactors.code));
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

export async function findRate(tx: TenantTransaction, id: string): Promise<RateRow | null> {
  const [row] = await tx
    .select()
    .from(rates)
    .where(and(eq(rates.tenantId, tx.tenantId), eq(rates.id, id)));
  return row ?? null;
}

/** Sets the last day of a rate, an account's price or a set of terms: all that ever changes of one. */
export async function setLastDay(
  tx: TenantTransaction,
  of: 'rate' | 'account_price' | 'price_terms',
  id: string,
  validTo: Day,
): Promise<void> {
  const table = { rate: rates, account_price: accountPrices, price_terms: priceTerms }[of];
  await tx
    .update(table)
    .set({ validTo })
    .where(and(eq(table.tenantId, tx.tenantId), eq(table.id, id)));
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

export interface NewTaxArea extends New<TaxAreaRow> {
  readonly rates: readonly New<Omit<TaxRateRow, 'taxAreaId'>>[];
  readonly classes: New<Omit<TaxClassesRow, 'taxAreaId'>>;
}

/** Writes the place, its rates and the classes it taxes. False when the id or the code is taken. */
export async function insertTaxArea(
  tx: TenantTransaction,
  { rates: parts, classes, ...area }: NewTaxArea,
): Promise<boolean> {
  const { tenantId } = tx;
  const rows = await tx
    .insert(taxAreas)
    .values({ tenantId, ...area })
    .onConflictDoNothing()
    .returning({ id: taxAreas.id });
  if (rows.length === 0) return false;
  if (parts.length > 0)
    await tx.insert(taxRates).values(parts.map((part) => ({ tenantId, taxAreaId: area.id, ...part })));
  await tx.insert(taxClasses).values({ tenantId, taxAreaId: area.id, ...classes });
  return true;
}

export async function findTaxAreaByCode(tx: TenantTransaction, code: string): Promise<TaxAreaRow | null> {
  const [row] = await tx
    .select()
    .from(taxAreas)
    .where(and(eq(taxAreas.tenantId, tx.tenantId), eq(taxAreas.code, code)));
  return row ?? null;
}

/** The code of a place that an account names; throws when there is none, which its foreign key rules out. */
export async function findTaxAreaCode(tx: TenantTransaction, id: string): Promise<string> {
  const [row] = await tx
    .select({ code: taxAreas.code })
    .from(taxAreas)
    .where(and(eq(taxAreas.tenantId, tx.tenantId), eq(taxAreas.id, id)));
  if (row === undefined) throw new Error('an account names a tax area that is not there');
  return row.code;
}

export interface TaxAreaWithRates extends TaxAreaRow {
  readonly rates: readonly TaxRateRow[];
  readonly classes: readonly TaxClassesRow[];
}

/** Every place by its code, with all periods of its rates and of the classes it taxes. */
export async function listTaxAreas(tx: TenantTransaction): Promise<readonly TaxAreaWithRates[]> {
  const areas = await tx
    .select()
    .from(taxAreas)
    .where(eq(taxAreas.tenantId, tx.tenantId))
    .orderBy(asc(taxAreas.code));
  if (areas.length === 0) return [];
  const ids = areas.map((area) => area.id);
  const parts = await tx
    .select()
    .from(taxRates)
    .where(and(eq(taxRates.tenantId, tx.tenantId), inArray(taxRates.taxAreaId, ids)))
    .orderBy(asc(taxRates.position), asc(taxRates.validFrom));
  const classes = await tx
    .select()
    .from(taxClasses)
    .where(and(eq(taxClasses.tenantId, tx.tenantId), inArray(taxClasses.taxAreaId, ids)))
    .orderBy(asc(taxClasses.validFrom));
  return areas.map((area) => ({
    ...area,
    rates: parts.filter((part) => part.taxAreaId === area.id),
    classes: classes.filter((row) => row.taxAreaId === area.id),
  }));
}
