import type { Instant } from '../dates.ts';
import { type PhotoPurpose, photoPurposes } from '../work/photos.ts';
import { clockMinutesOff } from './moment-on-phone.ts';
import { hammingDistance, type PhotoMeasures, printDifference } from './photo-quality.ts';
import type { TakenTime } from './taken-time.ts';

/** What may be wrong with a photo. It is said and never refuses: whoever stands beside the vehicle knows better. */
export const photoWarningCodes = [
  'blurred',
  'too_dark',
  'washed_out',
  'too_small',
  'same_picture',
  'like_another',
  'before_work_order',
  'in_future',
] as const;

export type PhotoWarningCode = (typeof photoWarningCodes)[number];

export interface PhotoWarning {
  readonly code: PhotoWarningCode;
  /** For the technician, who is still beside the vehicle. */
  readonly sentence: string;
}

export interface PhotoFactsToJudge {
  readonly sha256: string;
  /** Pixels, upright. */
  readonly width: number;
  readonly height: number;
  readonly measures: PhotoMeasures;
  /** Null where neither the camera nor the phone says when it was taken. */
  readonly taken: TakenTime | null;
}

/** Another photo that this one may be the same as. */
export interface OtherPhoto {
  readonly sha256: string;
  readonly purpose: PhotoPurpose;
  /** Null where it was never measured. */
  readonly measures: Pick<PhotoMeasures, 'hash' | 'print'> | null;
  /** In words where it is of another work order, e.g. “WO-1004”; null for the same one. */
  readonly elsewhere: string | null;
}

export interface PhotoSurroundings {
  /** Photos that were there before. */
  readonly others: readonly OtherPhoto[];
  /** When the work order was written up, by the phone that it was done on where it says so; null where it is not known. */
  readonly writtenUpAt: Instant | null;
  readonly now: Instant;
}

/** Bounds as measured on drawn trim and what was made of it; docs/photo-warnings.md has the table. */
export const photoBounds = {
  /** Below it even the sharpest field has no edge that a sharp photo of trim has. */
  sharpnessLeast: 100,
  /** More of the picture than this shows next to nothing. */
  darkMost: 0.7,
  /** More of the picture than this is plain white. */
  washedOutMost: 0.25,
  /** Pixels of the shorter and the longer side; below, a ruler's marks can't be told apart. */
  shorterSideLeast: 480,
  longerSideLeast: 640,
  /** Of 64 bits; a copy that was made smaller or saved again differs in at most these, … */
  hashDistanceMost: 3,
  /** … and by less than this many steps of brightness in each of its fields. The same place later differs by more. */
  printDifferenceMost: 2,
  /** Of other work orders only what was saved again: the same part of another vehicle of a kind is close. */
  printDifferenceElsewhereMost: 1.5,
} as const;

/** All that is to be said of a photo, in the order in which it is mended. */
export function photoWarnings(
  facts: PhotoFactsToJudge,
  surroundings: PhotoSurroundings,
): readonly PhotoWarning[] {
  return [
    ...qualityWarnings(facts),
    ...samenessWarnings(facts, surroundings.others),
    ...timeWarnings(facts.taken, surroundings),
  ];
}

/** What a phone can say at once: of the picture itself, and against those that it took just before. */
export function warningsAtCapture(
  facts: Omit<PhotoFactsToJudge, 'taken'>,
  others: readonly OtherPhoto[],
): readonly PhotoWarning[] {
  return [...qualityWarnings(facts), ...samenessWarnings(facts, others)];
}

/** What can be told from the picture alone. */
export function qualityWarnings({
  measures,
  width,
  height,
}: Pick<PhotoFactsToJudge, 'measures' | 'width' | 'height'>): readonly PhotoWarning[] {
  const { sharpness, dark, washedOut } = measures;
  const [shorter, longer] = [Math.min(width, height), Math.max(width, height)];
  const isDark = dark > photoBounds.darkMost;
  return [
    // In the dark every edge is weak: only the darkness is said.
    ...(isDark ? [warning('too_dark', tooDark)] : []),
    ...(!isDark && sharpness < photoBounds.sharpnessLeast ? [warning('blurred', blurred)] : []),
    ...(washedOut > photoBounds.washedOutMost ? [warning('washed_out', whitened)] : []),
    ...(shorter < photoBounds.shorterSideLeast || longer < photoBounds.longerSideLeast
      ? [warning('too_small', tooSmall(width, height))]
      : []),
  ];
}

const blurred = 'This photo looks blurred. Wipe the lens, hold still, tap on the damage, and take it again.';
const tooDark = 'This photo is very dark. Turn on a lamp or the phone’s light, and take it again.';
const whitened =
  'Much of this photo is plain white. Turn away from the light or shade the part, and take it again.';

function tooSmall(width: number, height: number): string {
  const { longerSideLeast, shorterSideLeast } = photoBounds;
  return `This photo has only ${width} × ${height} pixels; a ruler is hard to read below ${longerSideLeast} × ${shorterSideLeast}. Take it again in full size.`;
}

function samenessWarnings(
  { sha256, measures }: Pick<PhotoFactsToJudge, 'sha256' | 'measures'>,
  others: readonly OtherPhoto[],
): readonly PhotoWarning[] {
  const same = others.find((other) => other.sha256 === sha256);
  if (same !== undefined)
    return [
      warning(
        'same_picture',
        `This is the same picture as one already kept ${placeOf(same)}. Take a new one.`,
      ),
    ];
  const like = others.find((other) => isCopy(measures, other));
  if (like === undefined) return [];
  return [
    warning(
      'like_another',
      `This looks like a copy of a picture already kept ${placeOf(like)}. Take a new one.`,
    ),
  ];
}

function placeOf({ purpose, elsewhere }: OtherPhoto): string {
  return `${elsewhere === null ? 'here' : `with ${elsewhere}`} as “${photoPurposes[purpose]}”`;
}

/** Whether one is the other saved again, made smaller or the like; not whether they show the same place. */
function isCopy(
  one: Pick<PhotoMeasures, 'hash' | 'print'>,
  { measures: other, elsewhere }: OtherPhoto,
): boolean {
  if (other === null) return false;
  const { printDifferenceMost, printDifferenceElsewhereMost, hashDistanceMost } = photoBounds;
  const most = elsewhere === null ? printDifferenceMost : printDifferenceElsewhereMost;
  return (
    hammingDistance(one.hash, other.hash) <= hashDistanceMost &&
    printDifference(one.print, other.print) < most
  );
}

/** A technician may photograph first and write up afterwards. */
const beforeWriteUpMinutes = 120;

function timeWarnings(
  taken: TakenTime | null,
  { writtenUpAt, now }: PhotoSurroundings,
): readonly PhotoWarning[] {
  if (taken === null) return [];
  const unsure = taken.uncertainHours * 60;
  if (minutesFrom(now, taken.at) > unsure + clockMinutesOff)
    return [
      warning(
        'in_future',
        `By ${taken.source} this photo was taken at ${taken.words}, which is still to come.${doubt(taken)} Set the clock right, and take it again.`,
      ),
    ];
  if (writtenUpAt !== null && minutesFrom(taken.at, writtenUpAt) > unsure + beforeWriteUpMinutes)
    return [
      warning(
        'before_work_order',
        `By ${taken.source} this photo was taken at ${taken.words}, before this work order was written up.${doubt(taken)} Take a new one of this vehicle.`,
      ),
    ];
  return [];
}

function doubt({ uncertainHours }: TakenTime): string {
  return uncertainHours === 0
    ? ''
    : ` It names no time zone; even if it is ${uncertainHours} hours off, that holds.`;
}

function minutesFrom(from: Instant, to: Instant): number {
  return (Date.parse(to) - Date.parse(from)) / 60_000;
}

function warning(code: PhotoWarningCode, sentence: string): PhotoWarning {
  return { code, sentence };
}
