import type { Day } from './dates.ts';

/** A day in a sentence for people, e.g. “Mar 1, 2027”. */
export function dayWords(day: Day): string {
  return new Intl.DateTimeFormat('en-US', { dateStyle: 'medium', timeZone: 'UTC' }).format(
    new Date(`${day}T00:00:00Z`),
  );
}
