import type { AccountId, AccountPrice, Contract, DatedTier, TierPrice } from '@grainwright/domain';
import { and, asc, eq, inArray } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { accounts, tiers, tierTerms } from '../schema/accounts.ts';
import { accountPrices, contracts, tierPrices } from '../schema/prices.ts';

/** What an account buys on, every period of it: its tier with the tier's own prices, its contracts and own prices. */
export interface BuyerTerms {
  readonly tiers: readonly DatedTier[];
  readonly tierPrices: readonly TierPrice[];
  readonly contracts: readonly Contract[];
  readonly accountPrices: readonly AccountPrice[];
}

/** The terms of each of these accounts, in five queries however many there are; one that is not there is left out. */
export async function loadBuyers(
  tx: TenantTransaction,
  accountIds: readonly AccountId[],
): Promise<ReadonlyMap<AccountId, BuyerTerms & { readonly taxAreaId: string }>> {
  if (accountIds.length === 0) return new Map();
  const ids = [...new Set(accountIds)];
  const found = await tx
    .select({
      id: accounts.id,
      tierCode: tiers.code,
      tierName: tiers.name,
      taxAreaId: accounts.taxAreaId,
    })
    .from(accounts)
    .innerJoin(tiers, and(eq(tiers.tenantId, accounts.tenantId), eq(tiers.code, accounts.tierCode)))
    .where(and(eq(accounts.tenantId, tx.tenantId), inArray(accounts.id, ids)));
  const prices = await tx
    .select()
    .from(accountPrices)
    .where(and(eq(accountPrices.tenantId, tx.tenantId), inArray(accountPrices.accountId, ids)));
  const agreed = await tx
    .select()
    .from(contracts)
    .where(and(eq(contracts.tenantId, tx.tenantId), inArray(contracts.accountId, ids)));
  const ofTiers = await loadTiers(tx, [...new Set(found.map((account) => account.tierCode))]);
  return new Map(
    found.map(({ id, tierCode, tierName, taxAreaId }) => [
      id,
      {
        taxAreaId,
        tiers: ofTiers.terms.filter((row) => row.tierCode === tierCode).map((row) => asTier(row, tierName)),
        tierPrices: ofTiers.prices.filter((row) => row.tierCode === tierCode).map(asOwnPrice),
        contracts: agreed
          .filter((row) => row.accountId === id)
          .map(({ name, discountPercent, validFrom, validTo }) => ({
            name,
            discountPercent,
            inForce: { from: validFrom, to: validTo },
          })),
        accountPrices: prices.filter((row) => row.accountId === id).map(asOwnPrice),
      },
    ]),
  );
}

async function loadTiers(tx: TenantTransaction, codes: readonly string[]) {
  if (codes.length === 0) return { terms: [], prices: [] };
  const terms = await tx
    .select()
    .from(tierTerms)
    .where(and(eq(tierTerms.tenantId, tx.tenantId), inArray(tierTerms.tierCode, [...codes])))
    .orderBy(asc(tierTerms.validFrom));
  const prices = await tx
    .select()
    .from(tierPrices)
    .where(and(eq(tierPrices.tenantId, tx.tenantId), inArray(tierPrices.tierCode, [...codes])));
  return { terms, prices };
}

function asTier(row: typeof tierTerms.$inferSelect, name: string): DatedTier {
  return {
    code: row.tierCode,
    name,
    discountPercent: row.discountPercent,
    vehicleMinimumMinor: row.vehicleMinimumMinor,
    vehicleCapMinor: row.vehicleCapMinor,
    visitMinimumMinor: row.visitMinimumMinor,
    tripWaivedFromMinor: row.tripWaivedFromMinor,
    inForce: { from: row.validFrom, to: row.validTo },
  };
}

/** A price of a code in place of list and factor: an account's, or a tier's. */
function asOwnPrice({
  code,
  priceMinor,
  validFrom,
  validTo,
}: Pick<typeof accountPrices.$inferSelect, 'code' | 'priceMinor' | 'validFrom' | 'validTo'>): AccountPrice {
  return { code, priceMinor, inForce: { from: validFrom, to: validTo } };
}
