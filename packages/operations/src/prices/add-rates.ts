import { insertRates, listRateRows, lockPriceBook } from '@grainwright/db';
import { ok, type Result, refuse } from '@grainwright/domain';
import { everyResult } from '../every-result.ts';
import { type Actor, performAsStaff, record } from '../perform.ts';
import { type DatedInput, readPeriod } from '../read-input.ts';
import { sameContent } from '../same-content.ts';
import type { Services } from '../services.ts';
import { checkRate, type NewRate } from './check-rate.ts';
import { problemOfRate, readRateFields, type WrittenRate } from './rate-fields.ts';

export interface RateInput extends DatedInput, WrittenRate {
  /** A UUID made by the client. */
  readonly id: string;
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
  const read = everyResult({ ...readRateFields(input, currency), inForce: readPeriod(input) });
  if (!read.ok) return read;
  const { inForce, ...rate } = read.value;
  const problem = problemOfRate(rate);
  if (problem !== null) return { ok: false, problem };
  const { id, takesFurtherRepair, repairsDamage } = input;
  return ok({ id, ...rate, takesFurtherRepair, repairsDamage, validFrom: inForce.from, validTo: inForce.to });
}
