import { insertEntries, takeNumber } from '@grainwright/db';
import { type JournalEntry, type JournalEntryId, toId } from '@grainwright/domain';
import type { Scope } from '../perform.ts';

/**
 * Posts entries to the journal. The posting number is the last lock that a transaction takes, since the whole
 * business waits for it.
 */
export async function postEntries(scope: Scope, entries: readonly JournalEntry[]): Promise<void> {
  const { tx, actor, business, now } = scope;
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
}
