import type { Day } from '@grainwright/domain';
import { and, eq, inArray } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { tierTerms } from '../schema/accounts.ts';
import {
  accountPrices,
  carePercents,
  contracts,
  priceTerms,
  rates,
  taxClasses,
  taxRates,
  tierPrices,
} from '../schema/prices.ts';

const tables = {
  rate: rates,
  account_price: accountPrices,
  tier_price: tierPrices,
  contract: contracts,
  price_terms: priceTerms,
  tier_terms: tierTerms,
  care_percent: carePercents,
  tax_rate: taxRates,
  tax_classes: taxClasses,
} as const;

/** What has periods in the price book. */
export type PricePeriodKind = keyof typeof tables;

/** Sets the last day of a period of the price book, or of several at once: all that ever changes of one. */
export async function setLastDay(
  tx: TenantTransaction,
  of: PricePeriodKind,
  id: string | readonly string[],
  validTo: Day,
): Promise<void> {
  const table = tables[of];
  await tx
    .update(table)
    .set({ validTo })
    .where(and(eq(table.tenantId, tx.tenantId), inArray(table.id, [id].flat())));
}
