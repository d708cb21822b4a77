import { insertRates, listRateRows, lockPriceBook } from '@grainwright/db';
import { ok, parseDay, parseMoney, type Result, refuse } from '@grainwright/domain';
import { everyResult } from '../every-result.ts';
import { type Actor, performAsStaff, record } from '../perform.ts';
import { readPercent, readWords } from '../read-input.ts';
import { sameContent } from '../same-content.ts';
import type { Services } from '../services.ts';
import { checkRate } from './check-rate.ts';
import { checkStillToCome, endBefore, fitNext } from './next-period.ts';

export interface ChangeRateInput {
  /** A UUID made by the client: of the new period. */
  readonly id: string;
  readonly code: string;
  readonly repair: string;
  readonly list: string;
  readonly materialsPercent: string;
  /** The first day of the new period, after today. */
  readonly validFrom: string;
}

/**
 * Gives a rate another name, list price or materials share from a coming day on; what it has now ends the day before.
 * Family and sizes stay as they are, and so does whatever was priced before. Refuses with `duplicate` a day that another
 * period covers with an end of its own or that comes before one, with `dates_out_of_order` one that is not to come or
 * leaves days between, naming both periods. The owner's to do.
 */
export function changeRate(
  services: Services,
  actor: Actor,
  input: ChangeRateInput,
): Promise<Result<{ id: string }>> {
  return performAsStaff(services, actor, 'change_price_book', async (scope) => {
    const { tx, business, today } = scope;
    const { id, code } = input;
    const read = everyResult({
      repair: readWords(input.repair, 'repair', 'what the repair is', 200),
      listMinor: parseMoney(input.list, { currency: business.currency, field: 'list' }),
      materialsPercent: readPercent(input.materialsPercent, 'materials_percent'),
      validFrom: parseDay(input.validFrom.trim(), 'valid_from'),
    });
    if (!read.ok) return read;
    const { validFrom } = read.value;
    if (read.value.listMinor === 0n)
      return refuse('invalid_money', 'Write a price above zero, or end the rate.', 'list');
    await lockPriceBook(tx);
    const all = await listRateRows(tx);
    const known = all.find((each) => each.id === id);
    if (known !== undefined)
      return sameContent(known, { code, ...read.value })
        ? ok({ id })
        : refuse('id_reused', 'This id stands for another rate. Send a new one.', 'id');
    const periods = all.filter((each) => each.code === code);
    const last = periods.at(-1);
    if (last === undefined) return refuse('not_found', 'There is no such rate.');
    const { tenantId: _tenant, ...kept } = last;
    const next = { ...kept, ...read.value, id, validTo: null };
    const toCome = checkStillToCome(validFrom, today);
    const fits = toCome.ok ? fitNext({ what: code, another: 'a rate' }, validFrom, periods) : toCome;
    if (!fits.ok) return fits;
    const others = all.filter((each) => each.code !== code);
    const clash = checkRate(next, others);
    if (!clash.ok) return clash;
    await endBefore(tx, 'rate', fits.value, validFrom);
    await insertRates(tx, [next]);
    const detail = { code, valid_from: validFrom, list_minor: next.listMinor.toString() };
    await record(scope, 'rate_changed', { kind: 'rate', id }, detail);
    return ok({ id });
  });
}
