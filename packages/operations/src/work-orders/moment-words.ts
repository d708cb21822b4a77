import type { Instant } from '@grainwright/domain';

/** A moment in a sentence, in the business's own time: “Oct 14, 2026, 5:52 PM”. */
export function momentWords(at: Instant, timeZone: string): string {
  return new Intl.DateTimeFormat('en-US', { dateStyle: 'medium', timeStyle: 'short', timeZone }).format(
    new Date(at),
  );
}

/**
 * When finished work was answered. An answer that was sent later says when it was signed, by the clock of the phone it was
 * signed on, and when it was received here.
 */
export function answeredWords(
  { acceptedAt, answeredAt }: { readonly acceptedAt: Instant; readonly answeredAt: Instant | null },
  timeZone: string,
): string {
  const received = momentWords(acceptedAt, timeZone);
  if (answeredAt === null) return received;
  return `${momentWords(answeredAt, timeZone)} (by the phone’s clock), received ${received}`;
}
