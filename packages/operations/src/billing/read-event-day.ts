import { type Day, dayWords, ok, parseDay, type Result, refuse } from '@grainwright/domain';
import type { Scope } from '../perform.ts';

/**
 * The day that something happened to an invoice: today where nothing is said, never before the invoice (`since`) nor in
 * the future. Refuses with `invalid_date` or `dates_out_of_order` at `field`.
 */
export function readEventDay(
  { today }: Pick<Scope, 'today'>,
  text: string | null,
  since: { readonly day: Day; readonly what: string },
  field: string,
): Result<Day> {
  const on = text === null || text.trim() === '' ? ok(today) : parseDay(text.trim(), field);
  if (!on.ok) return on;
  if (on.value > today)
    return refuse('dates_out_of_order', 'That day is still to come. Write today or an earlier day.', field);
  if (on.value < since.day)
    return refuse(
      'dates_out_of_order',
      `${since.what} is of ${dayWords(since.day)}. Write that day or a later one.`,
      field,
    );
  return on;
}
