import type { AccountRow } from '@grainwright/db';
import { type Day, dayWords, ok, parseDay, parseMoney, type Result, refuse } from '@grainwright/domain';
import type { Scope } from '../perform.ts';
import { readOptionalWords } from '../read-input.ts';

/** The ways in which money comes in from outside, and goes back. */
export const outsideMethods = ['check', 'card', 'ach', 'cash'] as const;
export type OutsideMethod = (typeof outsideMethods)[number];

export function readMethod(text: string): Result<OutsideMethod> {
  const known = outsideMethods.find((method) => method === text);
  return known === undefined
    ? refuse('invalid_input', 'Say how it was paid: by check, card, ACH transfer or cash.', 'method')
    : ok(known);
}

/** An amount above zero, in minor units. */
export function readAmount(text: string, currency: string, field: string): Result<bigint> {
  const amount = parseMoney(text, { currency, field });
  if (!amount.ok || amount.value > 0n) return amount;
  return refuse('invalid_money', 'Write an amount above zero.', field);
}

/** The day something happened to money: not one that is still to come. */
export function readMoneyDay(scope: Pick<Scope, 'today'>, text: string, field: string): Result<Day> {
  const read = parseDay(text.trim(), field);
  if (!read.ok || read.value <= scope.today) return read;
  return refuse('dates_out_of_order', 'That day is still to come. Write the day it happened.', field);
}

/** As `readMoneyDay`; today where nothing is written, and not before another day that `since` words tell of. */
export function readDayAfter(
  scope: Pick<Scope, 'today'>,
  text: string | null,
  field: string,
  since: { readonly day: Day; readonly words: string },
): Result<Day> {
  const read = text === null || text.trim() === '' ? ok(scope.today) : readMoneyDay(scope, text, field);
  if (!read.ok || read.value >= since.day) return read;
  return refuse(
    'dates_out_of_order',
    `${since.words} ${dayWords(since.day)}. Write that day or a later one.`,
    field,
  );
}

/** Whether a repeated request means the day that is stored: where none is written it does, on whatever day it comes. */
export function meansDay(text: string | null, wanted: Day, stored: Day): boolean {
  return text === null || text.trim() === '' || wanted === stored;
}

/** The day money came from an account. */
export function readReceivedOn(scope: Pick<Scope, 'today'>, account: AccountRow, text: string): Result<Day> {
  const field = 'received_on';
  const received = parseDay(text.trim(), field);
  if (!received.ok) return received;
  if (received.value > scope.today)
    return refuse('dates_out_of_order', 'That day is still to come. Write the day the money came.', field);
  if (received.value < account.openedOn)
    return refuse(
      'dates_out_of_order',
      `The account was opened on ${dayWords(account.openedOn)}; money can’t have come before.`,
      field,
    );
  return received;
}

/** A check's number, the bank's or the processor's reference; may be empty. */
export function readReference(text: string): Result<string> {
  return readOptionalWords(text, 'reference', 'the reference', 80);
}

/** Cards are paid, and paid back, through the processor; everything else through the bank. */
export function placeOf(method: string): 'bank' | 'clearing' {
  return method === 'card' ? 'clearing' : 'bank';
}
