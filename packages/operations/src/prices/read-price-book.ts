import {
  type CareFactorWithPercents,
  listAllAccountPrices,
  listAllContracts,
  listCareFactors,
  listPriceTerms,
  listRateRows,
  listTaxAreas,
  listTierPrices,
  listTiers,
  type NamedAccountPrice,
  type NamedContract,
  type PriceTermsRow,
  type RateRow,
  type TaxAreaWithRates,
  type TierPriceRow,
  type TierTermsRow,
  type TierWithTerms,
} from '@grainwright/db';
import {
  compareDecimals,
  contains,
  type Day,
  type Decimal,
  decimal,
  ok,
  type Result,
  roundHalfUp,
  splitLine,
  subtractDecimals,
} from '@grainwright/domain';
import { type Actor, performAsStaff } from '../perform.ts';
import type { Services } from '../services.ts';

export interface RateWithPrices extends RateRow {
  /** What of the list price is labor, and what materials. */
  readonly laborMinor: bigint;
  readonly materialsMinor: bigint;
  /** What each tier pays for it, in the order of `tiers`: on `on`, or on its first day where that is later. */
  readonly tierPricesMinor: readonly bigint[];
}

/** A tier with its terms of `on`, and all of them. */
export interface TierView extends TierWithTerms, TermsOfTier {}

type TermsOfTier = Pick<
  TierTermsRow,
  'discountPercent' | 'vehicleMinimumMinor' | 'vehicleCapMinor' | 'visitMinimumMinor' | 'tripWaivedFromMinor'
>;

/** A care factor as it counts on `on`, and all its periods. */
export interface CareFactorView extends CareFactorWithPercents {
  readonly percent: Decimal;
}

/** An account's own price, and what its code costs at list on the price's first day, or on `on` where that is later. */
export interface AccountPriceView extends NamedAccountPrice {
  readonly listMinor: bigint | null;
}

export interface PriceBookView {
  readonly currency: string;
  /** The day whose terms and factors stand first. */
  readonly on: Day;
  /** The smallest discount of that day first. */
  readonly tiers: readonly TierView[];
  readonly rates: readonly RateWithPrices[];
  readonly factors: readonly CareFactorView[];
  readonly terms: readonly PriceTermsRow[];
  readonly taxAreas: readonly TaxAreaWithRates[];
  readonly accountPrices: readonly AccountPriceView[];
  /** The tiers' own prices, every period. */
  readonly tierPrices: readonly TierPriceRow[];
  readonly contracts: readonly NamedContract[];
  readonly today: Day;
}

const accountPricesMax = 1000;
const contractsMax = 1000;

/** The whole price book with all its periods, as it stands today or on another day, for the staff. Accounts never see it. */
export function readPriceBook(
  services: Services,
  actor: Actor,
  input: { readonly on: Day | null } = { on: null },
): Promise<Result<PriceBookView>> {
  return performAsStaff(services, actor, 'see_price_book', async ({ tx, business, today }) => {
    const on = input.on ?? today;
    const tiers = (await listTiers(tx))
      .map((tier) => ({ ...tier, ...termsOn(tier, on) }))
      .toSorted(byDiscount);
    const rates = await listRateRows(tx);
    const factors = await listCareFactors(tx);
    const tierPrices = await listTierPrices(tx);
    const prices = await listAllAccountPrices(tx, accountPricesMax);
    return ok({
      currency: business.currency,
      on,
      tiers,
      rates: rates.map((rate) => ({
        ...rate,
        ...splitLine(rate.listMinor, rate.materialsPercent),
        tierPricesMinor: tiers.map((tier) => tierPrice(rate, tier, tierPrices, on)),
      })),
      factors: factors.map((factor) => ({ ...factor, percent: inForce(factor.percents, on).percent })),
      terms: await listPriceTerms(tx),
      taxAreas: await listTaxAreas(tx),
      accountPrices: prices.map((price) => ({ ...price, listMinor: listPrice(rates, price, on) })),
      tierPrices,
      contracts: await listAllContracts(tx, contractsMax),
      today,
    });
  });
}

function termsOn(tier: TierWithTerms, on: Day): TermsOfTier {
  const terms = inForce(tier.terms, on);
  const { discountPercent, vehicleMinimumMinor, vehicleCapMinor, visitMinimumMinor, tripWaivedFromMinor } =
    terms;
  return { discountPercent, vehicleMinimumMinor, vehicleCapMinor, visitMinimumMinor, tripWaivedFromMinor };
}

function byDiscount(a: TierView, b: TierView): number {
  return compareDecimals(a.discountPercent, b.discountPercent);
}

interface Dated {
  readonly validFrom: Day;
  readonly validTo: Day | null;
}

function covers({ validFrom, validTo }: Dated, on: Day): boolean {
  return contains({ from: validFrom, to: validTo }, on);
}

/** The period of a day among those that leave no day out. */
function inForce<Row extends Dated>(periods: readonly Row[], on: Day): Row {
  const found = periods.find((row) => covers(row, on));
  if (found === undefined) throw new Error(`a price book without a period for ${on}`);
  return found;
}

function laterOf(a: Day, b: Day): Day {
  return a > b ? a : b;
}

/** The tier's own price where it has one then, else list less its discount. */
function tierPrice(rate: RateRow, tier: TierWithTerms, own: readonly TierPriceRow[], on: Day): bigint {
  const day = laterOf(on, rate.validFrom);
  const price = own.find(
    (each) => each.tierCode === tier.code && each.code === rate.code && covers(each, day),
  );
  if (price !== undefined) return price.priceMinor;
  const { discountPercent } = inForce(tier.terms, day);
  return roundHalfUp(rate.listMinor, subtractDecimals(decimal('100'), discountPercent));
}

function listPrice(rates: readonly RateRow[], price: NamedAccountPrice, on: Day): bigint | null {
  const day = laterOf(on, price.validFrom);
  return rates.find((rate) => rate.code === price.code && covers(rate, day))?.listMinor ?? null;
}
