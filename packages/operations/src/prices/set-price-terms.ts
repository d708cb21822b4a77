import { insertPriceTerms, listPriceTerms, lockPriceBook, setLastDay } from '@grainwright/db';
import { addDays, type Day, type Decimal, ok, parseMoney, type Result, refuse } from '@grainwright/domain';
import { everyResult } from '../every-result.ts';
import { type Actor, performAsStaff, record } from '../perform.ts';
import { type DatedInput, readNumber, readPercent, readPeriod } from '../read-input.ts';
import { sameContent } from '../same-content.ts';
import type { Services } from '../services.ts';
import { periodsOverlap, refuseOverlap } from './overlap.ts';

export interface SetPriceTermsInput extends DatedInput {
  /** A UUID made by the client. */
  readonly id: string;
  /** Of the first, second, third and every further repair on a vehicle, e.g. 100, 90, 80. */
  readonly furtherRepairPercents: readonly string[];
  readonly trip: string;
  readonly milesIncluded: string;
  readonly mile: string;
  readonly afterHoursPercent: string;
  readonly afterHoursMinimum: string;
  readonly depositFrom: string;
  readonly depositPercent: string;
  /** Deposits are rounded up to a multiple of it. */
  readonly depositStep: string;
}

/**
 * Sets the numbers of the price rules that are not by repair or tier. Set for a coming day and without an end, they end
 * the ones that run the day before; any other overlap is refused with `duplicate`. The owner's to do.
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
      return sameContent(known, terms)
        ? ok({ id })
        : refuse('id_reused', 'This id stands for other terms. Send a new one.', 'id');
    const clash = all.find((each) =>
      periodsOverlap({ from: each.validFrom, to: each.validTo }, inForce.value),
    );
    if (clash !== undefined) {
      const { validFrom, validTo } = clash;
      if (!follows(terms, clash, scope.today))
        return refuseOverlap('a set of price terms', inForce.value, { from: validFrom, to: validTo });
      await setLastDay(tx, 'price_terms', clash.id, addDays(terms.validFrom, -1));
    }
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
    afterHoursPercent: readPercent(input.afterHoursPercent, 'after_hours_percent', '0', '300'),
    afterHoursMinimumMinor: parseMoney(input.afterHoursMinimum, { currency, field: 'after_hours_minimum' }),
    depositFromMinor: parseMoney(input.depositFrom, { currency, field: 'deposit_from' }),
    depositPercent: readPercent(input.depositPercent, 'deposit_percent'),
    depositStepMinor: parseMoney(input.depositStep, { currency, field: 'deposit_step' }),
  });
  if (read.ok && read.value.depositStepMinor === 0n)
    return refuse(
      'invalid_money',
      'Write the step that deposits are rounded up to, like 10.00.',
      'deposit_step',
    );
  return read;
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
    read.push(one.value);
  }
  return ok(read);
}
