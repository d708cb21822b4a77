import { type Day, isUuid, type LineId, type PhotoId, parseDay, toId } from '@grainwright/domain';

/** A version as it was frozen, read from its canonical content alone. Amounts are minor units of `currency`. */
export interface FrozenEstimate {
  readonly number: number;
  readonly rateDay: Day | null;
  readonly expiresOn: Day | null;
  readonly currency: string;
  readonly lines: readonly FrozenLine[];
  readonly vehicleMinimumMinor: bigint;
  readonly afterHoursMinor: bigint;
  readonly rushMinor: bigint;
  readonly visitMinimumMinor: bigint;
  readonly tripMinor: bigint;
  readonly taxMinor: bigint;
  readonly totalMinor: bigint;
}

export interface FrozenLine {
  readonly lineId: LineId;
  readonly code: string;
  readonly text: string;
  readonly inches: string | null;
  readonly netMinor: bigint;
  readonly laborMinor: bigint;
  readonly materialsMinor: bigint;
}

/** What stood before somebody's eyes, read from its canonical content alone. Amounts are decimal texts. */
export interface SeenRecord {
  readonly question: string;
  readonly total: string;
  readonly lines: readonly SeenLine[];
  /** Null where it is not known which pictures stood there. */
  readonly photos:
    | readonly { readonly id: PhotoId; readonly sha256: string; readonly purpose: string }[]
    | null;
  /** Null where no quote stood there. */
  readonly newPart: {
    readonly quoted: string;
    readonly saved: string | null;
    readonly savedPercent: string | null;
  } | null;
}

export interface SeenLine {
  readonly lineId: LineId;
  readonly text: string;
  readonly offered: string;
  readonly answer: string | null;
  readonly reason: string;
  readonly price: string | null;
}

/** Null for what no version of this program ever wrote: then it was tampered with. */
export function readFrozenEstimate(content: string): FrozenEstimate | null {
  return attempt(content, (found) => ({
    number: Number(text(found.number)),
    rateDay: dayOf(found.rateDay),
    expiresOn: dayOf(found.expiresOn),
    currency: text(found.currency),
    lines: listOf(found.lines).map((line) => ({
      lineId: idOf<LineId>(line.line),
      code: text(line.code),
      text: text(line.text),
      inches: optional(line.inches),
      netMinor: amount(line.netMinor),
      laborMinor: amount(line.laborMinor),
      materialsMinor: amount(line.materialsMinor),
    })),
    vehicleMinimumMinor: amount(found.vehicleMinimumMinor),
    afterHoursMinor: amount(found.afterHoursMinor),
    // There were no such charges when the first versions were frozen.
    rushMinor: amount(found.rushMinor ?? '0'),
    visitMinimumMinor: amount(found.visitMinimumMinor ?? '0'),
    tripMinor: amount(found.tripMinor),
    taxMinor: amount(found.taxMinor),
    totalMinor: amount(found.totalMinor),
  }));
}

/** As `readFrozenEstimate`, of what was seen. */
export function readSeen(content: string): SeenRecord | null {
  return attempt(content, (found) => ({
    question: text(found.question),
    total: text(found.total),
    lines: listOf(found.lines).map((line) => ({
      lineId: idOf<LineId>(line.line),
      text: text(line.text),
      offered: text(line.offered),
      answer: optional(line.answer),
      reason: text(line.reason),
      price: optional(line.price),
    })),
    photos:
      found.photos === null
        ? null
        : listOf(found.photos).map((photo) => ({
            id: idOf<PhotoId>(photo.photo),
            sha256: text(photo.sha256),
            purpose: text(photo.purpose),
          })),
    newPart: found.new_part === null ? null : newPartOf(recordOf(found.new_part)),
  }));
}

function newPartOf(part: Found): NonNullable<SeenRecord['newPart']> {
  return {
    quoted: text(part.quoted),
    saved: optional(part.saved),
    savedPercent: optional(part.saved_percent),
  };
}

type Found = Readonly<Record<string, unknown>>;

/** What is not as it must be is thrown within, and told as nothing. */
function attempt<T>(content: string, read: (found: Found) => T): T | null {
  try {
    return read(recordOf(JSON.parse(content)));
  } catch {
    return null;
  }
}

function recordOf(value: unknown): Found {
  if (value === null || typeof value !== 'object' || Array.isArray(value)) throw new Error('no record');
  return Object.fromEntries(Object.entries(value));
}

function listOf(value: unknown): readonly Found[] {
  if (!Array.isArray(value)) throw new Error('no list');
  return value.map(recordOf);
}

function text(value: unknown): string {
  if (typeof value !== 'string' && typeof value !== 'number') throw new Error('no text');
  return String(value);
}

function optional(value: unknown): string | null {
  return value === null ? null : text(value);
}

function amount(value: unknown): bigint {
  return BigInt(text(value));
}

function dayOf(value: unknown): Day | null {
  if (value === null) return null;
  const day = parseDay(text(value), 'day');
  if (!day.ok) throw new Error('no day');
  return day.value;
}

function idOf<T extends LineId | PhotoId>(value: unknown): T {
  const id = text(value);
  if (!isUuid(id)) throw new Error('no id');
  return toId<T>(id);
}
