import type { OriginalRow } from '@grainwright/db';
import {
  addDays,
  endOfDay,
  type Instant,
  isBefore,
  type PackedAs,
  type PackedMedia,
} from '@grainwright/domain';
import { makeBareCopy, type ObjectKey, type ObjectStore, toObjectKey } from '@grainwright/evidence';
import { readBytes } from '../stored-bytes.ts';
import type { PackRecords } from './pack-records.ts';
import type { PackedRecording } from './recordings-to-pack.ts';

/** A file of a pack that is still to be opened. */
export interface MediaToPack {
  readonly media: Omit<PackedMedia, 'bareSha256'>;
  readonly bareSha256: string | null;
  /** Null where only its digest goes into the pack. */
  readonly source: { readonly key: ObjectKey; readonly makesBare: boolean } | null;
}

const filmExtensions = { 'video/webm': 'webm', 'video/mp4': 'mp4', 'video/quicktime': 'mov' } as const;
const extensions = { 'image/jpeg': 'jpg', 'image/png': 'png', 'image/webp': 'webp' } as const;

/** The pictures of a pack in the order received: originals for the business, bare or covered copies for its customers. */
export function photosToPack(
  records: Pick<PackRecords, 'photos' | 'covered' | 'deleted' | 'reader' | 'hidden'>,
): readonly MediaToPack[] {
  return records.photos.map((photo, index) => photoToPack(records, photo, index + 1));
}

function photoToPack(
  { covered, deleted, reader, hidden }: Pick<PackRecords, 'covered' | 'deleted' | 'reader' | 'hidden'>,
  photo: OriginalRow,
  number: number,
): MediaToPack {
  const { storageKey, bareSha256, mediaType } = photo;
  const name = fileName('photos', number, photo.purpose);
  const made = (as: PackedAs, file: string | null, source: MediaToPack['source']): MediaToPack => ({
    media: {
      id: photo.id,
      purpose: photo.purpose,
      line: photo.lineId,
      file,
      as,
      originalSha256: photo.sha256,
      takenAtLocal: photo.takenAtLocal,
      receivedAt: photo.receivedAt,
    },
    bareSha256,
    source,
  });
  const original = toObjectKey(storageKey);
  if (deleted.some(({ subjectId }) => subjectId === photo.id)) return made('deleted', null, null);
  if (reader === 'business')
    return made('original', `${name}.${extensions[mediaType]}`, { key: original, makesBare: false });
  if (hidden.has(photo.id)) return made('withheld', null, null);
  const covering = covered.find(({ photoId }) => photoId === photo.id);
  if (covering === undefined)
    return made('bare', `${name}.${extensions[mediaType]}`, { key: original, makesBare: true });
  if (covering.storageKey === null) return made('withheld', null, null);
  return made('covered', `${name}.jpg`, { key: toObjectKey(covering.storageKey), makesBare: false });
}

/** Recordings as whoever asks may open them: a customer gets no film that says where it was taken. */
export function recordingsToPackOf({
  recordings,
  deleted,
}: Pick<PackRecords, 'recordings' | 'deleted'>): readonly MediaToPack[] {
  return recordings.flatMap((each, index) => {
    const isDeleted = deleted.some(({ subjectId }) => subjectId === each.recording.id);
    return recordingToPack(isDeleted ? { ...each, film: null, poster: null } : each, index + 1, isDeleted);
  });
}

function recordingToPack(
  { recording, film, poster }: PackedRecording,
  number: number,
  isDeleted: boolean,
): readonly MediaToPack[] {
  const name = fileName('recordings', number, recording.kind);
  const extension = filmExtensions[recording.mediaType];
  const about = { id: recording.id, line: null, takenAtLocal: null, receivedAt: recording.receivedAt };
  const whole: MediaToPack = {
    media: {
      ...about,
      purpose: 'recording',
      file: film === null ? null : `${name}.${extension}`,
      as: film !== null ? 'original' : isDeleted ? 'deleted' : 'withheld',
      originalSha256: recording.sha256,
    },
    bareSha256: null,
    source: film === null ? null : { key: toObjectKey(film.storageKey), makesBare: false },
  };
  if (poster === null) return [whole];
  const picture: MediaToPack = {
    media: {
      ...about,
      purpose: 'recording_poster',
      file: `${name}-poster.jpg`,
      as: 'original',
      originalSha256: poster.sha256,
    },
    bareSha256: null,
    source: { key: toObjectKey(poster.storageKey), makesBare: false },
  };
  return [whole, picture];
}

function fileName(folder: string, number: number, purpose: string): string {
  return `${folder}/${String(number).padStart(2, '0')}-${purpose.replaceAll('_', '-')}`;
}

/** The bytes of a picture as the pack has them, whole. Null where the store has none. */
export async function pictureBytes(
  objects: ObjectStore,
  source: NonNullable<MediaToPack['source']>,
): Promise<Uint8Array | null> {
  const bytes = await readBytes(objects, source.key);
  return bytes === null || !source.makesBare ? bytes : makeBareCopy(bytes);
}

/** The moment of the newest thing on record in the pack, whatever it is: nothing in it is of a later day. */
export function packAsOf({
  seals,
  photos,
  recordings,
  covered,
  deleted,
  missing,
  days,
  business: { timeZone },
}: PackRecords): Instant {
  const newestDay = days.at(-1);
  const moments = [
    ...seals.map(({ sealedAt }) => sealedAt),
    ...[...photos, ...recordings.map(({ recording }) => recording)].map(({ receivedAt }) => receivedAt),
    ...covered.map(({ coveredAt }) => coveredAt),
    ...deleted.map(({ on }) => endOfDay(addDays(on, -1), timeZone)),
    ...missing.map(({ recordedAt }) => recordedAt),
    // A day is sealed once it is over.
    ...(newestDay === undefined ? [] : [endOfDay(newestDay.day, timeZone)]),
  ];
  return moments.reduce((newest, at) => (isBefore(newest, at) ? at : newest));
}
