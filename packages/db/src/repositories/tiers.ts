import { and, asc, eq } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { tiers, tierTerms } from '../schema/accounts.ts';

export type TierRow = typeof tiers.$inferSelect;
export type TierTermsRow = typeof tierTerms.$inferSelect;

export interface TierWithTerms extends TierRow {
  /** Every period, the first one first; there is always one for a day. */
  readonly terms: readonly TierTermsRow[];
}

type New<Row> = Omit<Row, 'tenantId'>;

/** False when the code is taken. */
export async function insertTier(tx: TenantTransaction, tier: New<TierRow>): Promise<boolean> {
  const rows = await tx
    .insert(tiers)
    .values({ tenantId: tx.tenantId, ...tier })
    .onConflictDoNothing()
    .returning({ code: tiers.code });
  return rows.length === 1;
}

/** Inserts after `lockPriceBook` and a look at the other periods; an overlap is a broken invariant here. */
export async function insertTierTerms(tx: TenantTransaction, terms: New<TierTermsRow>): Promise<void> {
  await tx.insert(tierTerms).values({ tenantId: tx.tenantId, ...terms });
}

export async function findTier(tx: TenantTransaction, code: string): Promise<TierWithTerms | null> {
  const [row] = await tx
    .select()
    .from(tiers)
    .where(and(eq(tiers.tenantId, tx.tenantId), eq(tiers.code, code)));
  if (row === undefined) return null;
  const terms = await tx
    .select()
    .from(tierTerms)
    .where(and(eq(tierTerms.tenantId, tx.tenantId), eq(tierTerms.tierCode, code)))
    .orderBy(asc(tierTerms.validFrom));
  return { ...row, terms };
}

/** Every tier with all its periods, by code. */
export async function listTiers(tx: TenantTransaction): Promise<readonly TierWithTerms[]> {
  const rows = await tx.select().from(tiers).where(eq(tiers.tenantId, tx.tenantId)).orderBy(asc(tiers.code));
  const terms = await tx
    .select()
    .from(tierTerms)
    .where(eq(tierTerms.tenantId, tx.tenantId))
    .orderBy(asc(tierTerms.validFrom));
  return rows.map((row) => ({ ...row, terms: terms.filter((each) => each.tierCode === row.code) }));
}
