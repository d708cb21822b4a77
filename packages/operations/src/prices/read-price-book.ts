import {
  type CareFactorRow,
  listAllAccountPrices,
  listCareFactors,
  listPriceTerms,
  listRateRows,
  listTaxAreas,
  listTiers,
  type NamedAccountPrice,
  type PriceTermsRow,
  type RateRow,
  type TaxAreaWithRates,
  type TierRow,
} from '@grainwright/db';
import { type Day, decimal, ok, type Result, roundHalfUp, subtractDecimals } from '@grainwright/domain';
import { type Actor, performAsStaff } from '../perform.ts';
import type { Services } from '../services.ts';

export interface RateWithPrices extends RateRow {
  /** What each tier pays for it, in the order of `tiers`. */
  readonly tierPricesMinor: readonly bigint[];
}

export interface PriceBookView {
  readonly currency: string;
  readonly tiers: readonly TierRow[];
  readonly rates: readonly RateWithPrices[];
  readonly factors: readonly CareFactorRow[];
  readonly terms: readonly PriceTermsRow[];
  readonly taxAreas: readonly TaxAreaWithRates[];
  readonly accountPrices: readonly NamedAccountPrice[];
  readonly today: Day;
}

const accountPricesMax = 1000;

/** The whole price book with all its periods, as the staff may see it. Accounts never do. */
export function readPriceBook(services: Services, actor: Actor): Promise<Result<PriceBookView>> {
  return performAsStaff(services, actor, 'see_price_book', async ({ tx, business, today }) => {
    const tiers = await listTiers(tx);
    const rates = await listRateRows(tx);
    return ok({
      currency: business.currency,
      tiers,
      rates: rates.map((rate) => ({ ...rate, tierPricesMinor: tiers.map((tier) => tierPrice(rate, tier)) })),
      factors: await listCareFactors(tx),
      terms: await listPriceTerms(tx),
      taxAreas: await listTaxAreas(tx),
      accountPrices: await listAllAccountPrices(tx, accountPricesMax),
      today,
    });
  });
}

function tierPrice(rate: RateRow, tier: TierRow): bigint {
  return roundHalfUp(rate.listMinor, subtractDecimals(decimal('100'), tier.discountPercent));
}
