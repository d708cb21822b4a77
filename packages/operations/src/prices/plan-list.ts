import type { RateRow } from '@grainwright/db';
import {
  addDays,
  compareLists,
  type Day,
  dayWords,
  type ListedRate,
  ok,
  type Result,
  refuse,
} from '@grainwright/domain';
import { checkRate, type NewRate } from './check-rate.ts';
import { fitNext } from './next-period.ts';
import { asListed, ratesOn } from './open-draft.ts';

/** What a list does to the price book on the day it begins. */
export interface ListPlan {
  /** They end the day before. */
  readonly ended: readonly RateRow[];
  readonly added: readonly NewRate[];
}

/**
 * How a list takes the place of what is in force on a day. A rate that stays the same is left alone, with whatever
 * comes after it. Refuses as `fitNext` and `checkRate` do, and with `duplicate` a code that the list leaves out though
 * a later price of it is set already.
 */
export function planList(
  list: readonly ListedRate[],
  book: readonly RateRow[],
  from: Day,
  newId: () => string,
): Result<ListPlan> {
  const inForce = ratesOn(book, from);
  const { changed, added: begun, ended: leftOut } = compareLists(inForce, list);
  const ended: RateRow[] = [];
  for (const rate of leftOut) {
    const fits = endsFor(rate.code, book, from);
    if (!fits.ok) return fits;
    ended.push(rate);
  }
  for (const { before } of changed) {
    const fits = fitNext({ what: before.code, another: 'a rate' }, from, periodsOf(before.code, book));
    if (!fits.ok) return fits;
    ended.push(before);
  }
  const added = [...changed.map(({ after }) => after), ...begun].map(
    (rate): NewRate => ({ id: newId(), ...asListed(rate), validFrom: from, validTo: null }),
  );
  const fits = checkAdded(added, book, ended, from);
  return fits.ok ? ok({ ended, added }) : fits;
}

/** Nothing that is set for later may stand alone once the price before it ends; nor does a price end before it begins. */
function endsFor(code: string, book: readonly RateRow[], from: Day): Result<void> {
  const later = periodsOf(code, book).find((rate) => rate.validFrom >= from);
  if (later === undefined) return ok(undefined);
  return refuse(
    'duplicate',
    `${code} has a price that begins on ${dayWords(later.validFrom)} already, so the list can’t end it. Keep it in the list, or let the list count from an earlier day.`,
    'rates',
  );
}

function checkAdded(
  added: readonly NewRate[],
  book: readonly RateRow[],
  ended: readonly RateRow[],
  from: Day,
): Result<void> {
  const ending = new Set(ended.map((rate) => rate.id));
  const lastDay = addDays(from, -1);
  const others = book.map((rate) => (ending.has(rate.id) ? { ...rate, validTo: lastDay } : rate));
  for (const rate of added) {
    const fits = checkRate(rate, [...others, ...added.filter((other) => other !== rate)]);
    if (!fits.ok) return fits;
  }
  return ok(undefined);
}

function periodsOf(code: string, book: readonly RateRow[]): readonly RateRow[] {
  return book.filter((rate) => rate.code === code);
}
