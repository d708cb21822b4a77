import {
  findAccountPrice,
  findContract,
  findRate,
  findTierPrice,
  listRatesOfCode,
  lockPriceBook,
  setLastDay,
} from '@grainwright/db';
import { type Day, dayWords, ok, parseDay, type Result, refuse } from '@grainwright/domain';
import { type Actor, performAsStaff, record, type Scope } from '../perform.ts';
import type { Services } from '../services.ts';
import { leavesGap, periodOf, refuseGap } from './overlap.ts';

/** What can be given a last day by itself. */
export type EndedKind = 'rate' | 'account_price' | 'tier_price' | 'contract';

export interface EndPriceInput {
  readonly kind: EndedKind;
  readonly id: string;
  /** The last day on which it is in force; today or later, since what was priced stays as it was. */
  readonly validTo: string;
}

/**
 * Gives a rate, an own price of an account or a tier, or a contract a last day, so that another can follow it. The owner's to do. Repeating it
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
    const price = await find[kind](tx, id);
    if (price === null) return refuse('not_found', 'There is no such price.');
    if (price.validTo === lastDay.value) return ok({ id });
    const fits = checkLastDay(lastDay.value, price, today);
    if (!fits.ok) return fits;
    const followed =
      kind === 'rate' && 'code' in price
        ? await checkFollowed(scope, { ...price, validTo: lastDay.value })
        : ok(undefined);
    if (!followed.ok) return followed;
    await setLastDay(tx, kind, id, lastDay.value);
    const named = 'code' in price ? { code: price.code } : { name: price.name };
    const detail = { ...named, from: price.validTo, to: lastDay.value };
    await record(scope, `${kind}_ended`, { kind, id }, detail);
    return ok({ id });
  });
}

const find = {
  rate: findRate,
  account_price: findAccountPrice,
  tier_price: findTierPrice,
  contract: findContract,
} as const;

interface Dated {
  readonly validFrom: Day;
  readonly validTo: Day | null;
}

/** A rate that the next one follows can't end before it without leaving days that have no price. */
async function checkFollowed(
  { tx }: Scope,
  ended: { readonly code: string; readonly validFrom: Day; readonly validTo: Day },
): Promise<Result<void>> {
  const next = (await listRatesOfCode(tx, ended.code)).find((rate) => rate.validFrom > ended.validFrom);
  if (next === undefined) return ok(undefined);
  const gap = leavesGap(periodOf(ended), periodOf(next));
  if (gap === null) return ok(undefined);
  return refuseGap({ what: ended.code, another: 'a rate' }, gap, periodOf(next), 'valid_to');
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
      `It starts on ${dayWords(validFrom)} and can’t end before. Check the date.`,
      'valid_to',
    );
  if (validTo !== null && lastDay > validTo)
    return refuse(
      'dates_out_of_order',
      `It ends on ${dayWords(validTo)} already. Add another price for the days after.`,
      'valid_to',
    );
  return ok(undefined);
}
