import { asc, eq } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { careFactors, carePercents } from '../schema/prices.ts';

export type CareFactorRow = typeof careFactors.$inferSelect;
export type CarePercentRow = typeof carePercents.$inferSelect;

export interface CareFactorWithPercents extends CareFactorRow {
  /** Every period, the first one first; there is always one for a day. */
  readonly percents: readonly CarePercentRow[];
}

type New<Row> = Omit<Row, 'tenantId'>;

/** False when the code is taken. */
export async function insertCareFactor(tx: TenantTransaction, factor: New<CareFactorRow>): Promise<boolean> {
  const rows = await tx
    .insert(careFactors)
    .values({ tenantId: tx.tenantId, ...factor })
    .onConflictDoNothing()
    .returning({ code: careFactors.code });
  return rows.length === 1;
}

/** Inserts after `lockPriceBook` and a look at the other periods; an overlap is a broken invariant here. */
export async function insertCarePercent(tx: TenantTransaction, percent: New<CarePercentRow>): Promise<void> {
  await tx.insert(carePercents).values({ tenantId: tx.tenantId, ...percent });
}

/** Every care factor with all its periods, by code. */
export async function listCareFactors(tx: TenantTransaction): Promise<readonly CareFactorWithPercents[]> {
  const rows = await tx
    .select()
    .from(careFactors)
    .where(eq(careFactors.tenantId, tx.tenantId))
    .orderBy(asc(careFactors.code));
  const percents = await tx
    .select()
    .from(carePercents)
    .where(eq(carePercents.tenantId, tx.tenantId))
    .orderBy(asc(carePercents.validFrom));
  return rows.map((row) => ({ ...row, percents: percents.filter((each) => each.factorCode === row.code) }));
}
