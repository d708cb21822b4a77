import { and, asc, eq } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { tierPrices } from '../schema/prices.ts';

export type TierPriceRow = typeof tierPrices.$inferSelect;

/** Inserts after `lockPriceBook` and a look at the other periods; an overlap is a broken invariant here. */
export async function insertTierPrice(
  tx: TenantTransaction,
  price: Omit<TierPriceRow, 'tenantId'>,
): Promise<void> {
  await tx.insert(tierPrices).values({ tenantId: tx.tenantId, ...price });
}

export async function findTierPrice(tx: TenantTransaction, id: string): Promise<TierPriceRow | null> {
  const [row] = await tx
    .select()
    .from(tierPrices)
    .where(and(eq(tierPrices.tenantId, tx.tenantId), eq(tierPrices.id, id)));
  return row ?? null;
}

/** Every period of every tier's own prices, by code; of one tier where it is named. */
export async function listTierPrices(
  tx: TenantTransaction,
  tierCode?: string,
): Promise<readonly TierPriceRow[]> {
  return tx
    .select()
    .from(tierPrices)
    .where(
      and(
        eq(tierPrices.tenantId, tx.tenantId),
        tierCode === undefined ? undefined : eq(tierPrices.tierCode, tierCode),
      ),
    )
    .orderBy(asc(tierPrices.tierCode), asc(tierPrices.code), asc(tierPrices.validFrom));
}
