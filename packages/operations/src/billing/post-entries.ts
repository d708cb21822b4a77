import { insertEntries, listClosedMonths, lockNumbers, takeNumber } from '@grainwright/db';
import { monthWords } from '@grainwright/documents';
import {
  firstDay,
  type JournalEntry,
  type JournalEntryId,
  monthOf,
  ok,
  type Result,
  refuse,
  toId,
} from '@grainwright/domain';
import type { Scope } from '../perform.ts';

/**
 * Posts entries to the journal. The posting number is the last lock that a transaction takes, since the whole
 * business waits for it. Refuses with `month_closed` what is dated in a month whose books are closed; `field` is the
 * input that the day came from.
 */
export async function postEntries(
  scope: Scope,
  entries: readonly JournalEntry[],
  field?: string,
): Promise<Result<true>> {
  const { tx, actor, business, now } = scope;
  await lockNumbers(tx, 'posting');
  const open = await inOpenMonths(scope, entries, field);
  if (!open.ok) return open;
  const posted = [];
  for (const entry of entries)
    posted.push({
      id: toId<JournalEntryId>(scope.newId()),
      posting: await takeNumber(tx, 'posting'),
      currency: business.currency,
      postedBy: actor.personId,
      postedAt: now,
      entry,
    });
  await insertEntries(tx, posted);
  return ok(true);
}

async function inOpenMonths(
  { tx }: Scope,
  entries: readonly JournalEntry[],
  field: string | undefined,
): Promise<Result<true>> {
  const months = [...new Set(entries.map((entry) => monthOf(entry.occurredOn)))];
  const closed = await listClosedMonths(tx, months.map(firstDay));
  const late = entries.find((entry) => closed.includes(firstDay(monthOf(entry.occurredOn))));
  if (late === undefined) return ok(true);
  return refuse(
    'month_closed',
    `The books of ${monthWords(monthOf(late.occurredOn))} are closed. Date it in an open month, or have the month opened again.`,
    field,
  );
}
