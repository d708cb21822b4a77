import { Temporal } from 'temporal-polyfill';
import { ok, type Result, refuse } from './result.ts';

declare const brand: unique symbol;
/** A calendar day, ISO 8601 `YYYY-MM-DD`. Which day it is depends on the tenant's time zone. */
export type Day = string & { readonly [brand]: 'day' };
/** A calendar month, `YYYY-MM`. */
export type Month = string & { readonly [brand]: 'month' };
/** A moment, RFC 3339 in UTC with `Z`. */
export type Instant = string & { readonly [brand]: 'instant' };

const yearLeast = 1900;
const yearMost = 2200;

/** Refuses with `invalid_date` what is no day of the calendar, or not of the years 1900 to 2200. */
export function parseDay(text: string, field = 'date'): Result<Day> {
  if (!/^\d{4}-\d{2}-\d{2}$/.test(text))
    return refuse('invalid_date', 'Write the date as year-month-day, like 2026-08-05.', field);
  if (!isOurYear(text)) return refuseYear(field);
  try {
    return ok(Temporal.PlainDate.from(text, { overflow: 'reject' }).toString() as Day);
  } catch {
    return refuse('invalid_date', `There is no ${text}. Check the day and the month.`, field);
  }
}

/** As `parseDay`. */
export function parseMonth(text: string, field = 'month'): Result<Month> {
  if (!/^\d{4}-(0[1-9]|1[0-2])$/.test(text))
    return refuse('invalid_date', 'Write the month as year-month, like 2026-08.', field);
  return isOurYear(text) ? ok(text as Month) : refuseYear(field);
}

function isOurYear(text: string): boolean {
  const year = Number(text.slice(0, 4));
  return year >= yearLeast && year <= yearMost;
}

function refuseYear(field: string): Result<never> {
  return refuse('invalid_date', `Write a year from ${yearLeast} to ${yearMost}. Check the date.`, field);
}

/** A day known to be right, as in configuration and tests; throws otherwise. */
export function day(text: string): Day {
  const parsed = parseDay(text);
  if (!parsed.ok) throw new Error(parsed.problem.detail);
  return parsed.value;
}

export function month(text: string): Month {
  const parsed = parseMonth(text);
  if (!parsed.ok) throw new Error(parsed.problem.detail);
  return parsed.value;
}

export function instant(at: Date | string): Instant {
  return Temporal.Instant.from(typeof at === 'string' ? at : at.toISOString()).toString() as Instant;
}

export function dayAt(at: Instant, timeZone: string): Day {
  return Temporal.Instant.from(at).toZonedDateTimeISO(timeZone).toPlainDate().toString() as Day;
}

/** Whether it is between eight in the morning and six in the evening there: when people like to be written to. */
export function isDaytime(at: Instant, timeZone: string): boolean {
  const { hour } = Temporal.Instant.from(at).toZonedDateTimeISO(timeZone);
  return hour >= 8 && hour < 18;
}

/** The moment at which a day is over: the first one of the next. */
export function endOfDay(date: Day, timeZone: string): Instant {
  return Temporal.PlainDate.from(date)
    .add({ days: 1 })
    .toZonedDateTime({ timeZone })
    .toInstant()
    .toString() as Instant;
}

/** Whether one moment is earlier than another. */
export function isBefore(a: Instant, b: Instant): boolean {
  return Temporal.Instant.compare(a, b) < 0;
}

/** So many seconds later; earlier when negative. */
export function addSeconds(at: Instant, seconds: number): Instant {
  return Temporal.Instant.from(at).add({ seconds }).toString() as Instant;
}

export function addDays(from: Day, days: number): Day {
  return Temporal.PlainDate.from(from).add({ days }).toString() as Day;
}

/** The same day so many months later, earlier where negative; the last day of a month that is too short for it. */
export function addMonths(from: Day, months: number): Day {
  return Temporal.PlainDate.from(from).add({ months }).toString() as Day;
}

/** Days from `from` to `to`; negative when `to` is earlier. */
export function daysBetween(from: Day, to: Day): number {
  return Temporal.PlainDate.from(from).until(Temporal.PlainDate.from(to), { largestUnit: 'day' }).days;
}

export function monthOf(date: Day): Month {
  return date.slice(0, 7) as Month;
}

export function firstDay(of: Month): Day {
  return `${of}-01` as Day;
}

export function lastDay(of: Month): Day {
  const yearMonth = Temporal.PlainYearMonth.from(of);
  return yearMonth.toPlainDate({ day: yearMonth.daysInMonth }).toString() as Day;
}

/** A period of days; `to` is the last day in it, null while it has no end. */
export interface Period {
  readonly from: Day;
  readonly to: Day | null;
}

export function contains(period: Period, date: Day): boolean {
  return period.from <= date && (period.to === null || date <= period.to);
}
