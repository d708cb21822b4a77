import { findAccountPrice, findRate, listRatesOfCode, lockPriceBook, setLastDay } from '@grainwright/db';
import { type Day, dayWords, ok, parseDay, type Result, refuse } from '@grainwright/domain';
import { type Actor, performAsStaff, record, type Scope } from '../perform.ts';
import type { Services } from '../services.ts';
import { leavesGap, refuseGap } from './overlap.ts';

export interface EndPriceInput {
  readonly kind: 'rate' | 'account_price';
  readonly id: string;
  /** The last day on which it is in force; today or later, since what was priced stays as it was. */
  readonly validTo: string;
}

/**
 * Gives a rate or an account's own price a last day, so that another can follow it. The owner's to do. Repeating it
 * changes nothing; refuses with `dates_out_of_order` a day that has passed, is before its first, would lengthen it, or would leave days
 * before the rate that follows it.
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
    const followed =
      kind === 'rate' ? await checkFollowed(scope, { ...price, validTo: lastDay.value }) : ok(undefined);
    if (!followed.ok) return followed;
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

/** A rate that the next one follows can't end before it without leaving days that have no price. */
async function checkFollowed(
  { tx }: Scope,
  ended: { readonly code: string; readonly validFrom: Day; readonly validTo: Day },
): Promise<Result<void>> {
  const given = { from: ended.validFrom, to: ended.validTo };
  const next = (await listRatesOfCode(tx, ended.code)).find((rate) => rate.validFrom > ended.validFrom);
  if (next === undefined) return ok(undefined);
  const after = { from: next.validFrom, to: next.validTo };
  const gap = leavesGap(given, after);
  return gap === null ? ok(undefined) : refuseGap(`the rate ${ended.code}`, gap, after, 'valid_to');
}

function checkLastDay(lastDay: Day, { validFrom, validTo }: Dated, today: Day): Result<void> {
  if (lastDay < today)
    return refuse(
      'dates_out_of_order',
      `The earliest last day is today, ${dayWords(today)}: what was priced before stays.`,
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
