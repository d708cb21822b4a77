import { insertCarePercent, listCareFactors, lockPriceBook } from '@grainwright/db';
import { ok, parseDay, type Result, refuse } from '@grainwright/domain';
import { everyResult } from '../every-result.ts';
import { type Actor, performAsStaff, record } from '../perform.ts';
import { readPercent } from '../read-input.ts';
import { sameContent } from '../same-content.ts';
import type { Services } from '../services.ts';
import { checkStillToCome, endBefore, fitNext } from './next-period.ts';

export interface ChangeCareFactorInput {
  /** A UUID made by the client: of the new period. */
  readonly id: string;
  readonly code: string;
  /** 110 means × 1.10; from 100 to 300. */
  readonly percent: string;
  /** Its first day, after today. */
  readonly validFrom: string;
}

/** Lets a care factor count otherwise from a coming day on; refuses as `changeRate` does. The owner's to do. */
export function changeCareFactor(
  services: Services,
  actor: Actor,
  input: ChangeCareFactorInput,
): Promise<Result<{ id: string }>> {
  return performAsStaff(services, actor, 'change_price_book', async (scope) => {
    const { tx, today } = scope;
    const { id, code } = input;
    const read = everyResult({
      percent: readPercent(input.percent, 'percent', '100', '300'),
      validFrom: parseDay(input.validFrom.trim(), 'valid_from'),
    });
    if (!read.ok) return read;
    const { validFrom } = read.value;
    await lockPriceBook(tx);
    const factors = await listCareFactors(tx);
    const known = factors.flatMap((each) => each.percents).find((each) => each.id === id);
    if (known !== undefined)
      return sameContent(known, { factorCode: code, ...read.value })
        ? ok({ id })
        : refuse('id_reused', 'This id stands for another factor. Send a new one.', 'id');
    const factor = factors.find((each) => each.code === code);
    if (factor === undefined) return refuse('not_found', 'There is no such care factor.');
    const toCome = checkStillToCome(validFrom, today);
    const fits = toCome.ok
      ? fitNext({ what: factor.name, another: 'a factor' }, validFrom, factor.percents)
      : toCome;
    if (!fits.ok) return fits;
    await endBefore(tx, 'care_percent', fits.value, validFrom);
    await insertCarePercent(tx, { id, factorCode: code, ...read.value, validTo: null });
    await record(
      scope,
      'care_factor_changed',
      { kind: 'care_percent', id },
      { code, valid_from: validFrom, percent: input.percent },
    );
    return ok({ id });
  });
}
