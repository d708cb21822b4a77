import { type Day, day, type Instant, instant } from '@grainwright/domain';
import { Temporal } from 'temporal-polyfill';

/** Where all of the demo's businesses are. */
export const demoTimeZone = 'America/Chicago';

export function instantOn(date: string, time: string): Instant {
  return instant(
    Temporal.PlainDateTime.from(`${day(date)}T${time}`)
      .toZonedDateTime(demoTimeZone)
      .toInstant()
      .toString(),
  );
}

export function plusMinutes(at: Instant, minutes: number): Instant {
  return instant(Temporal.Instant.from(at).add({ minutes }).toString());
}

/** The business's day at a moment, so many days before it. */
export function dayBefore(at: Instant, days: number): Day {
  return day(
    Temporal.Instant.from(at).toZonedDateTimeISO(demoTimeZone).toPlainDate().subtract({ days }).toString(),
  );
}

export function localTime(at: Instant): { readonly local: string; readonly offset: string } {
  const shown = Temporal.Instant.from(at).toZonedDateTimeISO(demoTimeZone);
  return { local: shown.toPlainDateTime().toString({ smallestUnit: 'second' }), offset: shown.offset };
}
