import { Temporal } from 'temporal-polyfill';
import { type Day, day } from '../dates.ts';
import { ok, type Result, refuse } from '../result.ts';

/** What a business may let go once its time is over, with its name on pages. */
export const retentionKinds = {
  photos: 'photos',
  recordings: 'recordings',
  documents: 'statement files',
  mails: 'the words of mails',
} as const satisfies Record<string, string>;

export type RetentionKind = keyof typeof retentionKinds;
export type RetentionUnit = 'days' | 'years';

export interface RetentionPeriod {
  readonly period: number;
  readonly unit: RetentionUnit;
}

/**
 * No shorter period is taken, so that a slip of the finger deletes nothing that a dispute is still about. Bounds of our
 * own: how long something must or may be kept is a matter of local law.
 */
export const shortestDays = {
  photos: 365,
  recordings: 90,
  documents: 1095,
  mails: 365,
} as const satisfies Record<RetentionKind, number>;

export const longestYears = 50;

/** How long a shorter period waits before it counts. */
export const noticeDays = 30;

/** The last day that something is kept, whose time counts from `endedOn`. Feb 29 and a year is Feb 28. */
export function keptThrough(endedOn: Day, { period, unit }: RetentionPeriod): Day {
  return day(
    Temporal.PlainDate.from(endedOn)
      .add({ [unit]: period })
      .toString(),
  );
}

/** Whether `next` lets go earlier than `current`; null is for good. */
export function isShorter(next: RetentionPeriod | null, current: RetentionPeriod | null): boolean {
  if (next === null) return false;
  return current === null || keptThrough(anyDay, next) < keptThrough(anyDay, current);
}

const anyDay = day('2001-01-01');

/** Refuses with `invalid_input` what is no whole number, and what is shorter or longer than is taken. */
export function readRetentionPeriod(
  kind: RetentionKind,
  given: { readonly period: string; readonly unit: string },
): Result<RetentionPeriod> {
  const { unit } = given;
  if (unit !== 'days' && unit !== 'years') return refuse('invalid_input', 'Choose days or years.', 'unit');
  if (!/^[1-9]\d{0,5}$/.test(given.period.trim()))
    return refuse('invalid_input', 'Write how long as a whole number, like 7.', 'period');
  const read = { period: Number(given.period.trim()), unit } as const;
  if (isShorter(read, { period: shortestDays[kind], unit: 'days' }))
    return refuse(
      'invalid_input',
      `Keep ${retentionKinds[kind]} for at least ${shortestDays[kind].toLocaleString('en-US')} days.`,
      'period',
    );
  if (isShorter({ period: longestYears, unit: 'years' }, read))
    return refuse(
      'invalid_input',
      `Write at most ${longestYears} years, or choose to keep them for good.`,
      'period',
    );
  return ok(read);
}

/** “7 years”, “1 day”. */
export function periodWords({ period, unit }: RetentionPeriod): string {
  return `${period.toLocaleString('en-US')} ${period === 1 ? unit.slice(0, -1) : unit}`;
}
