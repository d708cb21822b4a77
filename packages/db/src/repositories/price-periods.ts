import type { Day } from '@grainwright/domain';
import { and, eq } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { tierTerms } from '../schema/accounts.ts';
import { accountPrices, carePercents, priceTerms, rates, taxClasses, taxRates } from '../schema/prices.ts';

const tables = {
  rate: rates,
  account_price: accountPrices,
  price_terms: priceTerms,
  tier_terms: tierTerms,
  care_percent: carePercents,
  tax_rate: taxRates,
  tax_classes: taxClasses,
} as const;

/** What has periods in the price book. */
export type PricePeriodKind = keyof typeof tables;

/** Sets the last day of a period of the price book: all that ever changes of one. */
export async function setLastDay(
  tx: TenantTransaction,
  of: PricePeriodKind,
  id: string,
  validTo: Day,
): Promise<void> {
  const table = tables[of];
  await tx
    .update(table)
    .set({ validTo })
    .where(and(eq(table.tenantId, tx.tenantId), eq(table.id, id)));
}
