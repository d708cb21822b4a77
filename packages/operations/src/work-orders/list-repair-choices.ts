import { type BookedPrices, type BookedRate, loadPriceBook } from '@grainwright/db';
import {
  compareDecimals,
  contains,
  type Day,
  type Decimal,
  decimal,
  type Material,
  ok,
  parseDay,
  type Result,
  rateInForce,
  type VehiclePart,
} from '@grainwright/domain';
import { type Actor, performAsStaff } from '../perform.ts';
import type { Services } from '../services.ts';

/** What a line can be billed as. Amounts are minor units of `currency`, at list. */
export interface RepairChoicesView {
  readonly currency: string;
  readonly families: readonly RepairFamily[];
  readonly factors: readonly { readonly code: string; readonly name: string; readonly percent: Decimal }[];
  /** Of the second repair on a vehicle, the third and every further one, as far as they are below 100. */
  readonly furtherPercents: readonly Decimal[];
}

export interface RepairFamily {
  readonly family: string;
  /** Whether the measured size picks the rate. */
  readonly measured: boolean;
  readonly rates: readonly {
    readonly code: string;
    readonly repair: string;
    readonly overInches: Decimal | null;
    readonly toInches: Decimal | null;
    /** The only part and material it is for; null: any. */
    readonly part: VehiclePart | null;
    readonly material: Material | null;
    readonly listMinor: bigint;
  }[];
}

/** The repairs of the price book by family, with their sizes, and the care factors; of today unless said otherwise. */
export function listRepairChoices(
  services: Services,
  actor: Actor,
  input: { readonly day?: string | undefined } = {},
): Promise<Result<RepairChoicesView>> {
  return performAsStaff(services, actor, 'see_price_book', async ({ tx, today, business }) => {
    const day = input.day === undefined || input.day === '' ? ok(today) : parseDay(input.day, 'day');
    if (!day.ok) return day;
    return ok(choicesIn(await loadPriceBook(tx), day.value, business.currency));
  });
}

/** What of a price book is in force on a day, as it is chosen from. */
export function choicesIn(book: BookedPrices, day: Day, currency: string): RepairChoicesView {
  const current = book.rates.filter((rate) => rateInForce(book.rates, rate.code, day) === rate);
  const byFamily = Map.groupBy(current, (rate) => rate.family);
  return {
    currency,
    families: [...byFamily].map(([family, rates]) => familyOf(family, rates)),
    factors: book.factors.filter((factor) => contains(factor.inForce, day)),
    furtherPercents: furtherPercents(book.terms, day),
  };
}

function furtherPercents(terms: BookedPrices['terms'], day: Day): readonly Decimal[] {
  const inForce = terms.find((each) => contains(each.inForce, day));
  const percents = inForce?.furtherRepairPercents ?? [];
  return percents.filter((percent) => compareDecimals(percent, decimal('100')) < 0);
}

function familyOf(family: string, rates: readonly BookedRate[]): RepairFamily {
  return {
    family,
    measured: rates.every((rate) => rate.band !== null),
    rates: rates.map(({ code, repair, band, part, material, listMinor }) => ({
      code,
      repair,
      overInches: band?.overInches ?? null,
      toInches: band?.toInches ?? null,
      part,
      material,
      listMinor,
    })),
  };
}
