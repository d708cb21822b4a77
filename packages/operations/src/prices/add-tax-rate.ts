import { insertTaxRate, listTaxAreas, lockPriceBook } from '@grainwright/db';
import { ok, parseDay, type Result, refuse } from '@grainwright/domain';
import { everyResult } from '../every-result.ts';
import { type Actor, performAsStaff, record } from '../perform.ts';
import { readWords } from '../read-input.ts';
import { sameContent } from '../same-content.ts';
import type { Services } from '../services.ts';
import { endBefore, fitNext } from './next-period.ts';
import { checkNotInvoiced } from './not-invoiced.ts';
import { readTaxPercent } from './read-tax-percent.ts';

export interface AddTaxRateInput {
  /** A UUID made by the client. */
  readonly id: string;
  readonly areaCode: string;
  /** The part of the tax by its name, “State”; a name that the place has not had adds a part. */
  readonly component: string;
  readonly ratePercent: string;
  /** Its first day: also one that has passed, as long as no work from it on is invoiced. */
  readonly validFrom: string;
}

/**
 * Sets one part of a place's tax from a day on; what it was ends the day before. Taxes go by the date of work, and what
 * is invoiced stays as it is: refuses with `dates_out_of_order` a day from which on work there is invoiced already, or
 * one that leaves days between, with `duplicate` an overlap, naming both periods. The owner's to do, with the licensed
 * adviser of the business: the program only computes what is set.
 */
export function addTaxRate(
  services: Services,
  actor: Actor,
  input: AddTaxRateInput,
): Promise<Result<{ id: string }>> {
  return performAsStaff(services, actor, 'change_price_book', async (scope) => {
    const { tx } = scope;
    const { id } = input;
    const read = everyResult({
      component: readWords(input.component, 'component', 'whose part of the tax it is', 40),
      ratePercent: readTaxPercent(input.ratePercent, 'rate_percent'),
      validFrom: parseDay(input.validFrom.trim(), 'valid_from'),
    });
    if (!read.ok) return read;
    const { component, validFrom } = read.value;
    await lockPriceBook(tx);
    const areas = await listTaxAreas(tx);
    const area = areas.find((each) => each.code === input.areaCode);
    const known = areas.flatMap((each) => each.rates).find((each) => each.id === id);
    if (known !== undefined)
      return area !== undefined && sameContent(known, { taxAreaId: area.id, ...read.value })
        ? ok({ id })
        : refuse('id_reused', 'This id stands for another rate. Send a new one.', 'id');
    if (area === undefined) return refuse('not_found', 'There is no such tax area.');
    const periods = area.rates.filter((each) => each.component === component);
    const fits = fitNext({ what: `“${component}” of ${area.name}`, another: 'a rate' }, validFrom, periods);
    if (!fits.ok) return fits;
    const free = await checkNotInvoiced(scope, area.code, validFrom);
    if (!free.ok) return free;
    const position = periods.at(-1)?.position ?? Math.max(-1, ...area.rates.map((each) => each.position)) + 1;
    await endBefore(tx, 'tax_rate', fits.value, validFrom);
    await insertTaxRate(tx, { id, taxAreaId: area.id, ...read.value, position, validTo: null });
    await record(
      scope,
      'tax_rate_added',
      { kind: 'tax_area', id: area.id },
      { component, rate_percent: input.ratePercent, valid_from: validFrom },
    );
    return ok({ id });
  });
}
