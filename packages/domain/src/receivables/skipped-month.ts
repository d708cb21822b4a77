import { firstDay, lastDay, type Month, monthOf } from '../dates.ts';
import type { Statement } from './statement.ts';

/**
 * The first month between the statement before and this one that has something to tell and was told in neither, or
 * null. It has to be issued first: each statement opens as the one of the month before closed.
 */
export function skippedMonth(
  statement: Pick<Statement, 'month' | 'rows'>,
  previous: { readonly month: Month } | null,
): Month | null {
  if (previous === null) return null;
  const between = statement.rows.find(
    ({ on }) => on > lastDay(previous.month) && on < firstDay(statement.month),
  );
  return between === undefined ? null : monthOf(between.on);
}
