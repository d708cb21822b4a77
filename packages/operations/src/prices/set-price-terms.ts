import { insertPriceTerms, listPriceTerms, lockPriceBook, setLastDay } from '@grainwright/db';
import {
  addDays,
  compareDecimals,
  type Day,
  type Decimal,
  ok,
  parseMoney,
  type Result,
  refuse,
  type TripZone,
} from '@grainwright/domain';
import { everyResult } from '../every-result.ts';
import { type Actor, performAsStaff, record } from '../perform.ts';
import { type DatedInput, readNumber, readPercent, readPeriod } from '../read-input.ts';
import { sameContent } from '../same-content.ts';
import type { Services } from '../services.ts';
import { fitAmong, periodOf } from './overlap.ts';
import { readTripZones, type TripZoneInput } from './read-trip-zones.ts';

export interface SetPriceTermsInput extends DatedInput {
  /** A UUID made by the client. */
  readonly id: string;
  /** Of the first, second, third and every further repair on a vehicle, e.g. 100, 90, 80. */
  readonly furtherRepairPercents: readonly string[];
  readonly trip: string;
  readonly milesIncluded: string;
  readonly mile: string;
  /** From near to far; left out: none, and the trip costs the same wherever it goes. */
  readonly tripZones?: readonly TripZoneInput[] | undefined;
  readonly afterHoursPercent: string;
  readonly afterHoursMinimum: string;
  /** For coming within the day; left out: nothing. */
  readonly rushPercent?: string | undefined;
  readonly rushMinimum?: string | undefined;
  readonly depositFrom: string;
  readonly depositPercent: string;
  /** Deposits are rounded up to a multiple of it. */
  readonly depositStep: string;
  /** The share of list below which the owner has to consent to a line's price; null or left out: none. */
  readonly floorPercent?: string | null | undefined;
}

/**
 * Sets the numbers of the price rules that are not by repair or tier. Set for a coming day and without an end, they end
 * the ones that run the day before; any other overlap is refused with `duplicate`, and days without terms between two
 * with `dates_out_of_order`, naming both periods. The owner's to do.
 */
export function setPriceTerms(
  services: Services,
  actor: Actor,
  input: SetPriceTermsInput,
): Promise<Result<{ id: string }>> {
  return performAsStaff(services, actor, 'change_price_book', async (scope) => {
    const { tx } = scope;
    const { id } = input;
    const inForce = readPeriod(input);
    if (!inForce.ok) return inForce;
    const read = readTerms(input, scope.business.currency);
    if (!read.ok) return read;
    const terms = { id, ...read.value, validFrom: inForce.value.from, validTo: inForce.value.to };
    await lockPriceBook(tx);
    const all = await listPriceTerms(tx);
    const known = all.find((each) => each.id === id);
    if (known !== undefined)
      return sameContent(listed(known), listed(terms))
        ? ok({ id })
        : refuse('id_reused', 'This id stands for other terms. Send a new one.', 'id');
    const ended = all.find((each) => follows(terms, each, scope.today));
    const dayBefore = addDays(terms.validFrom, -1);
    const there = all.map((each) => periodOf(each === ended ? { ...each, validTo: dayBefore } : each));
    const counted = { what: 'A set of price terms', another: 'a set of terms' };
    const fits = fitAmong(counted, inForce.value, there, 'refused');
    if (!fits.ok) return fits;
    if (ended !== undefined) await setLastDay(tx, 'price_terms', ended.id, dayBefore);
    await insertPriceTerms(tx, terms);
    await record(
      scope,
      'price_terms_set',
      { kind: 'tenant', id: scope.actor.tenantId },
      { valid_from: terms.validFrom, valid_to: terms.validTo },
    );
    return ok({ id });
  });
}

/** With each zone as a list, as content is compared. */
function listed<Terms extends { readonly tripZones: readonly TripZone[] }>(terms: Terms) {
  const tripZones = terms.tripZones.map(({ name, upToMiles, amountMinor }) => [name, upToMiles, amountMinor]);
  return { ...terms, tripZones };
}

interface Dated {
  readonly validFrom: Day;
  readonly validTo: Day | null;
}

/** Terms without an end, set for a coming day, follow the ones that run: so there is never a day without terms. */
function follows(terms: Dated, running: Dated, today: Day): boolean {
  return (
    running.validTo === null &&
    terms.validTo === null &&
    running.validFrom < terms.validFrom &&
    today < terms.validFrom
  );
}

function readTerms(input: SetPriceTermsInput, currency: string) {
  const read = everyResult({
    furtherRepairPercents: readFurther(input.furtherRepairPercents),
    tripMinor: parseMoney(input.trip, { currency, field: 'trip' }),
    milesIncluded: readNumber(input.milesIncluded, 'miles_included', {
      least: '0',
      most: '5000',
      decimals: 1,
    }),
    mileMinor: parseMoney(input.mile, { currency, field: 'mile' }),
    tripZones: readTripZones(input.tripZones ?? [], currency),
    afterHoursPercent: readPercent(input.afterHoursPercent, 'after_hours_percent', '0', '300'),
    afterHoursMinimumMinor: parseMoney(input.afterHoursMinimum, { currency, field: 'after_hours_minimum' }),
    rushPercent: readPercent(input.rushPercent ?? '0', 'rush_percent', '0', '300'),
    rushMinimumMinor: parseMoney(input.rushMinimum ?? '0', { currency, field: 'rush_minimum' }),
    depositFromMinor: parseMoney(input.depositFrom, { currency, field: 'deposit_from' }),
    depositPercent: readPercent(input.depositPercent, 'deposit_percent'),
    depositStepMinor: parseMoney(input.depositStep, { currency, field: 'deposit_step' }),
    floorPercent: readFloor(input.floorPercent ?? null),
  });
  if (read.ok && read.value.depositStepMinor === 0n)
    return refuse(
      'invalid_money',
      'Write the step that deposits are rounded up to, like 10.00.',
      'deposit_step',
    );
  return read;
}

function readFloor(text: string | null): Result<Decimal | null> {
  return text === null ? ok(null) : readPercent(text, 'floor_percent', '0.001');
}

function readFurther(percents: readonly string[]): Result<readonly Decimal[]> {
  if (percents.length < 1 || percents.length > 10)
    return refuse(
      'invalid_input',
      'Write one to ten percents, for the first repair and the further ones.',
      'further_repair_percents',
    );
  const read: Decimal[] = [];
  for (const percent of percents) {
    const one = readPercent(percent, 'further_repair_percents');
    if (!one.ok) return one;
    const before = read.at(-1);
    if (before !== undefined && compareDecimals(one.value, before) > 0)
      return refuse(
        'invalid_input',
        'A further repair never takes more of its price than the one before it. Write the percents falling, like 100, 90, 80.',
        'further_repair_percents',
      );
    read.push(one.value);
  }
  return ok(read);
}
