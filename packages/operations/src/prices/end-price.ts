import { findAccountPrice, findRate, lockPriceBook, setLastDay } from '@grainwright/db';
import { type Day, ok, parseDay, type Result, refuse } from '@grainwright/domain';
import { type Actor, performAsStaff, record } from '../perform.ts';
import type { Services } from '../services.ts';

export interface EndPriceInput {
  readonly kind: 'rate' | 'account_price';
  readonly id: string;
  /** The last day on which it is in force; today or later, since what was priced stays as it was. */
  readonly validTo: string;
}

/**
 * Gives a rate or an account's own price a last day, so that another can follow it. The owner's to do. Repeating it
 * changes nothing; refuses with `dates_out_of_order` a day that has passed, is before its first, or would lengthen it.
 */
export function endPrice(
  services: Services,
  actor: Actor,
  input: EndPriceInput,
): Promise<Result<{ id: string }>> {
  return performAsStaff(services, actor, 'change_price_book', async (scope) => {
    const { tx, today } = scope;
    const { kind, id } = input;
    const lastDay = parseDay(input.validTo.trim(), 'valid_to');
    if (!lastDay.ok) return lastDay;
    await lockPriceBook(tx);
    const price = kind === 'rate' ? await findRate(tx, id) : await findAccountPrice(tx, id);
    if (price === null) return refuse('not_found', 'There is no such price.');
    if (price.validTo === lastDay.value) return ok({ id });
    const fits = checkLastDay(lastDay.value, price, today);
    if (!fits.ok) return fits;
    await setLastDay(tx, kind, id, lastDay.value);
    const detail = { code: price.code, from: price.validTo, to: lastDay.value };
    await record(scope, `${kind}_ended`, { kind, id }, detail);
    return ok({ id });
  });
}

interface Dated {
  readonly validFrom: Day;
  readonly validTo: Day | null;
}

function checkLastDay(lastDay: Day, { validFrom, validTo }: Dated, today: Day): Result<void> {
  if (lastDay < today)
    return refuse(
      'dates_out_of_order',
      `The earliest last day is today, ${today}: what was priced before stays.`,
      'valid_to',
    );
  if (lastDay < validFrom)
    return refuse(
      'dates_out_of_order',
      `It starts on ${validFrom} and can’t end before. Check the date.`,
      'valid_to',
    );
  if (validTo !== null && lastDay > validTo)
    return refuse(
      'dates_out_of_order',
      `It ends on ${validTo} already. Add another price for the days after.`,
      'valid_to',
    );
  return ok(undefined);
}
