import { addDays, type Day, dayWords, parseDay, type Result, refuse } from '@grainwright/domain';
import { readWords } from '../read-input.ts';

/** What a price list is called, and the day it is to count from. */
export interface DraftHeadInput {
  readonly name: string;
  readonly countsFrom: string;
}

/** Each of them by itself. Refuses a day that has passed: what was priced on it stays. */
export function readDraftHead(
  input: DraftHeadInput,
  today: Day,
): { readonly name: Result<string>; readonly countsFrom: Result<Day> } {
  return {
    name: readWords(input.name, 'name', 'a name for the list', 80),
    countsFrom: readCountsFrom(input.countsFrom, today),
  };
}

function readCountsFrom(text: string, today: Day): Result<Day> {
  const read = parseDay(text.trim(), 'counts_from');
  if (!read.ok || read.value >= today) return read;
  return refuse(
    'dates_out_of_order',
    `${dayWords(read.value)} has passed, and what was priced then stays. Choose ${dayWords(addDays(today, 1))} or a later day.`,
    'counts_from',
  );
}
