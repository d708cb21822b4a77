import type { EvidencePicture } from '@grainwright/documents';
import {
  dayAt,
  dayWords,
  type LineId,
  type PhotoId,
  type PhotoPurpose,
  parseDay,
  photoPurposes,
} from '@grainwright/domain';
import { noticedWords } from '../photo-checks/noticed.ts';
import { deletionWords } from '../retention/deleted-words.ts';
import { asSentence } from './as-sentence.ts';
import type { PackRecords } from './pack-records.ts';

/** Pictures as the document shows them, with what is needed to sort and to caption them. */
export interface PicturesOfPack
  extends Pick<PackRecords, 'photos' | 'covered' | 'remarks' | 'deleted' | 'hidden'> {
  readonly timeZone: string;
  /** JPEG of what may be shown; none where there is no copy. */
  readonly shown: ReadonlyMap<PhotoId, Uint8Array>;
}

const perLineMost = 6;

/** The first picture before beside the last one after, then what proves the damage, then the rest. */
const order: readonly PhotoPurpose[] = [
  'walk_around',
  'before',
  'after',
  'after_heat',
  'cut_out',
  'progress',
  'ruler',
  'stop_point',
];

/** Which photos of a line the document shows, and how many more there are. */
export function photosShown(
  lineId: LineId | null,
  { photos, hidden }: Pick<PackRecords, 'photos' | 'hidden'>,
): { readonly shown: PackRecords['photos']; readonly further: number } {
  const own = photos
    .filter((photo) => photo.lineId === lineId && !hidden.has(photo.id))
    .toSorted((a, b) => order.indexOf(a.purpose) - order.indexOf(b.purpose));
  const before = own.find(({ purpose }) => purpose === 'before');
  const after = own.findLast(({ purpose }) => purpose === 'after');
  const pair = [before, after].filter((photo) => photo !== undefined);
  const rest = own.filter((photo) => !pair.includes(photo));
  const proofsFirst = rest.toSorted((a, b) => Number(isSide(a.purpose)) - Number(isSide(b.purpose)));
  const all = [...pair, ...proofsFirst];
  return { shown: all.slice(0, perLineMost), further: Math.max(0, all.length - perLineMost) };
}

function isSide(purpose: PhotoPurpose): boolean {
  return purpose === 'before' || purpose === 'after';
}

export function picturesOfLine(
  lineId: LineId | null,
  pack: PicturesOfPack,
): { readonly shown: readonly EvidencePicture[]; readonly further: number } {
  const { shown, further } = photosShown(lineId, pack);
  return { shown: shown.map((photo) => evidencePicture(photo, pack)), further };
}

function evidencePicture(photo: PackRecords['photos'][number], pack: PicturesOfPack): EvidencePicture {
  const words = photoPurposes[photo.purpose];
  const bytes = pack.shown.get(photo.id) ?? null;
  const notes = notesOf(photo, pack);
  return {
    number: numberOf(photo.id, pack),
    purpose: `${words.charAt(0).toUpperCase()}${words.slice(1)}`,
    bytes,
    taken: takenWords(photo, pack.timeZone),
    notes: bytes === null ? [whyNotShown(photo.id, pack), ...notes] : notes,
  };
}

function whyNotShown(id: PhotoId, { deleted }: PicturesOfPack): string {
  const deletion = deleted.find(({ subjectId }) => subjectId === id);
  return deletion === undefined
    ? 'There is no copy of it to show here.'
    : asSentence(deletionWords('photos', deletion));
}

/** Pictures are numbered in the order received, as in the archive. */
export function numberOf(id: PhotoId, { photos }: Pick<PackRecords, 'photos'>): number {
  return photos.findIndex((photo) => photo.id === id) + 1;
}

/** “Aug 5, 2026, 9:12 AM by the camera”; without a camera’s time the day on which it came in. */
export function takenWords(
  { takenAtLocal, receivedAt }: Pick<PackRecords['photos'][number], 'takenAtLocal' | 'receivedAt'>,
  timeZone: string,
): string {
  const taken = parseDay((takenAtLocal ?? '').slice(0, 10));
  if (!taken.ok) return `received ${dayWords(dayAt(receivedAt, timeZone))}`;
  const time = /T(\d\d):(\d\d)/.exec(takenAtLocal ?? '');
  return `${dayWords(taken.value)}${time === null ? '' : `, ${clockWords(Number(time[1]), time[2] ?? '')}`} by the camera`;
}

/** As other moments are written: “5:59 PM”. */
function clockWords(hour: number, minute: string): string {
  return `${hour % 12 === 0 ? 12 : hour % 12}:${minute} ${hour < 12 ? 'AM' : 'PM'}`;
}

function notesOf(photo: PackRecords['photos'][number], pack: PicturesOfPack): readonly string[] {
  const covering = pack.covered.find(({ photoId }) => photoId === photo.id);
  const again = pack.photos.find(({ retakeOf }) => retakeOf === photo.id);
  const remarks = pack.remarks.filter(({ photoId }) => photoId === photo.id);
  const warnings = noticedWords(remarks[0]?.warnings ?? []);
  const reason = remarks.at(-1)?.reason ?? null;
  return [
    ...(covering === undefined
      ? []
      : [`Parts covered ${dayWords(dayAt(covering.coveredAt, pack.timeZone))}.`]),
    ...(photo.retakeOf === null
      ? []
      : [`Taken again, instead of picture ${numberOf(photo.retakeOf, pack)}.`]),
    ...(again === undefined ? [] : [`Taken again as picture ${numberOf(again.id, pack)}.`]),
    ...(warnings.length === 0 ? [] : [`Noticed when it came in: ${warnings.join(', ')}.`]),
    ...(reason === null ? [] : [reason === '' ? 'Kept all the same.' : `Kept, because: ${reason}`]),
  ];
}
