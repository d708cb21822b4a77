import { insertRates, listRateRows, lockPriceBook } from '@grainwright/db';
import { compareDecimals, ok, parseMoney, type Result, refuse } from '@grainwright/domain';
import { everyResult } from '../every-result.ts';
import { type Actor, performAsStaff, record } from '../perform.ts';
import { type DatedInput, readNumber, readPercent, readPeriod, readWords } from '../read-input.ts';
import { sameContent } from '../same-content.ts';
import type { Services } from '../services.ts';
import { checkRate, type NewRate } from './check-rate.ts';
import { readRateCode } from './read-code.ts';

export interface RateInput extends DatedInput {
  /** A UUID made by the client. */
  readonly id: string;
  readonly code: string;
  readonly repair: string;
  /** Rates that differ only by size share a family; the measured size picks one. */
  readonly family: string;
  /** The band in inches, over and up to; both null where nothing is measured. */
  readonly overInches: string | null;
  readonly toInches: string | null;
  readonly list: string;
  readonly materialsPercent: string;
  readonly takesFurtherRepair: boolean;
  readonly repairsDamage: boolean;
}

export interface AddRatesInput {
  readonly rates: readonly RateInput[];
}

/**
 * Adds rates to the price book, all or none. A code's periods may neither overlap nor leave
 * days between, nor may the sizes of one family overlap on the same day: refused naming both periods. Rates that are there under their id already are left as they are.
 */
export function addRates(
  services: Services,
  actor: Actor,
  input: AddRatesInput,
): Promise<Result<{ ids: readonly string[] }>> {
  return performAsStaff(services, actor, 'change_price_book', async (scope) => {
    const { tx } = scope;
    const read: NewRate[] = [];
    for (const rate of input.rates) {
      const one = readRate(rate, scope.business.currency);
      if (!one.ok) return one;
      read.push(one.value);
    }
    await lockPriceBook(tx);
    const there = await listRateRows(tx);
    const added: NewRate[] = [];
    for (const rate of read) {
      const known = [...there, ...added].find((each) => each.id === rate.id);
      if (known !== undefined && sameContent(known, rate)) continue;
      if (known !== undefined)
        return refuse('id_reused', `The id of ${rate.code} stands for another rate. Send a new one.`, 'id');
      const fits = checkRate(rate, [...there, ...added]);
      if (!fits.ok) return fits;
      added.push(rate);
    }
    if (added.length > 0) {
      await insertRates(tx, added);
      await record(
        scope,
        'rates_added',
        { kind: 'tenant', id: scope.actor.tenantId },
        { codes: added.map((rate) => rate.code) },
      );
    }
    return ok({ ids: read.map((rate) => rate.id) });
  });
}

function readRate(input: RateInput, currency: string): Result<NewRate> {
  const inches = (text: string | null, field: string) =>
    text === null ? ok(null) : readNumber(text, field, { least: '0', most: '500', decimals: 3 });
  const read = everyResult({
    code: readRateCode(input.code),
    repair: readWords(input.repair, 'repair', 'what the repair is', 200),
    family: readWords(input.family, 'family', 'the family of repairs', 60),
    overInches: inches(input.overInches, 'over_inches'),
    toInches: inches(input.toInches, 'to_inches'),
    listMinor: parseMoney(input.list, { currency, field: 'list' }),
    materialsPercent: readPercent(input.materialsPercent, 'materials_percent'),
    inForce: readPeriod(input),
  });
  if (!read.ok) return read;
  const { inForce, ...rate } = read.value;
  if (rate.listMinor === 0n)
    return refuse(
      'invalid_money',
      `${rate.code} has no price. Leave it out: what has no rate is priced by hand.`,
      'list',
    );
  if ((rate.overInches === null) !== (rate.toInches === null))
    return refuse('invalid_size', 'Write both ends of the size, or neither.', 'to_inches');
  if (
    rate.overInches !== null &&
    rate.toInches !== null &&
    compareDecimals(rate.toInches, rate.overInches) <= 0
  )
    return refuse('invalid_size', 'The larger end of the size must be above the smaller one.', 'to_inches');
  const { id, takesFurtherRepair, repairsDamage } = input;
  return ok({ id, ...rate, takesFurtherRepair, repairsDamage, validFrom: inForce.from, validTo: inForce.to });
}
