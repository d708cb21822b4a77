import type { Instant } from '@grainwright/domain';

/** A moment in a sentence, in the business's own time: “Oct 14, 2026, 5:52 PM”. */
export function momentWords(at: Instant, timeZone: string): string {
  return new Intl.DateTimeFormat('en-US', { dateStyle: 'medium', timeStyle: 'short', timeZone }).format(
    new Date(at),
  );
}
