import { type Instant, instant, isBefore } from '../dates.ts';

/** A clock that is a little off is no reason to doubt it. */
export const clockMinutesOff = 15;
/** What waited longer on a phone is dated by the server alone. */
export const daysOnPhoneMost = 14;

/**
 * When something was done on a phone that sent it later, by the phone's clock; never after `now`. Null where nothing was
 * said, and where it can't be: still to come, or longer ago than things wait on a phone.
 */
export function madeOnPhone(said: Instant | null, now: Instant): Instant | null {
  if (said === null || minutesBetween(now, said) > clockMinutesOff) return null;
  if (minutesBetween(said, now) > daysOnPhoneMost * 24 * 60) return null;
  return isBefore(now, said) ? now : instant(said);
}

/** Why a signer's moment is not taken from the device that it was signed on. */
export const answerDoubts = {
  in_future: 'is still to come',
  before_finish: 'is before the work was finished',
} as const;

export type AnswerDoubt = keyof typeof answerDoubts;

/**
 * When finished work was answered, by the clock of the device; null with the reason where it can't be. `finishedAt` is
 * when the work was finished, by the same clock where that is known.
 */
export function answeredOnDevice(
  said: Instant | null,
  { now, finishedAt }: { readonly now: Instant; readonly finishedAt: Instant | null },
): { readonly at: Instant | null; readonly doubt: AnswerDoubt | null } {
  if (said === null) return { at: null, doubt: null };
  if (minutesBetween(now, said) > clockMinutesOff) return { at: null, doubt: 'in_future' };
  if (finishedAt !== null && minutesBetween(said, finishedAt) > clockMinutesOff)
    return { at: null, doubt: 'before_finish' };
  return { at: said, doubt: null };
}

function minutesBetween(from: Instant, to: Instant): number {
  return (Date.parse(to) - Date.parse(from)) / 60_000;
}
