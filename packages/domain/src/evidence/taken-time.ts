import { Temporal } from 'temporal-polyfill';
import { type Instant, instant } from '../dates.ts';

/** When a photo was taken, by whichever clock says so most surely. It is that clock's word, and no proof. */
export interface TakenTime {
  readonly at: Instant;
  /** By how many hours it may be off, because it names no time zone. */
  readonly uncertainHours: number;
  /** Whose word it is: reads after “by”. */
  readonly source: 'the camera’s clock' | 'the phone’s clock';
  /** As that clock shows it, e.g. “Aug 5, 2026, 2:03 PM”. */
  readonly words: string;
}

interface WrittenDown {
  /** By the camera, `YYYY-MM-DDTHH:MM:SS` without a zone. */
  readonly takenAtLocal: string | null;
  /** `+HH:MM` or `-HH:MM`; null where the camera does not say. */
  readonly takenAtOffset: string | null;
  /** By the phone that sent it. */
  readonly capturedAt: Instant | null;
  /** Of the business: what a clock without a zone is read in. */
  readonly timeZone: string;
}

/** Zones around the earth span 26 hours; a camera that traveled with its owner in one country is rarely off by more. */
const unknownZoneHours = 12;

/**
 * The camera's word comes first: a phone may send today what it took last week. Null where nobody says anything.
 */
export function readTakenTime({
  takenAtLocal,
  takenAtOffset,
  capturedAt,
  timeZone,
}: WrittenDown): TakenTime | null {
  if (takenAtLocal === null)
    return capturedAt === null
      ? null
      : {
          at: capturedAt,
          uncertainHours: 0,
          source: 'the phone’s clock',
          words: wordsAt(capturedAt, timeZone),
        };
  const local = Temporal.PlainDateTime.from(takenAtLocal);
  const zone = takenAtOffset ?? timeZone;
  return {
    at: instant(local.toZonedDateTime(zone).toInstant().toString()),
    uncertainHours: takenAtOffset === null ? unknownZoneHours : 0,
    source: 'the camera’s clock',
    words: words(`${takenAtLocal}Z`, 'UTC'),
  };
}

function wordsAt(at: Instant, timeZone: string): string {
  return words(at, timeZone);
}

function words(at: string, timeZone: string): string {
  return new Intl.DateTimeFormat('en-US', { dateStyle: 'medium', timeStyle: 'short', timeZone })
    .format(new Date(at))
    .replaceAll('\u202f', ' ');
}
