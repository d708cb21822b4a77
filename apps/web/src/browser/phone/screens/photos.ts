import {
  instant,
  isUuid,
  type LineId,
  type PhotoPurpose,
  type Problem,
  photosStillToTake,
} from '@grainwright/domain';
import type { PhotosToTake } from '@grainwright/operations';
import { proposedForm } from '../../../pages/field/photos/proposed-form.ts';
import { photosView } from '../../../pages/field/photos/view.ts';
import { checkPhotoFile } from '../../camera/check-photo-file.ts';
import { takenAt } from '../../camera/taken-at.ts';
import { momentHere } from '../moment-here.ts';
import { newId } from '../new-id.ts';
import type { PhoneWork } from '../projection.ts';
import { nameOf } from '../sender.ts';
import { type Here, keep, madeThen, notKept, orderPath, type Screen, type Shown, workOf } from './screen.ts';
import { type WarnedPhoto, warnedPhotos } from './warned-photos.ts';
import { notHere } from './work-order.ts';
import { headingOf, linesOf, picturedBy } from './work-words.ts';

/** Taking photos: by the camera’s own module, which keeps each on the phone; or by the form, which does the same. */
export const photosScreen: Screen = {
  path: /^\/field\/work-orders\/([0-9a-f-]{36})\/photos\/?$/,
  get: (here, [id]) => {
    const work = workOf(here, id);
    return work === null ? notHere(here) : photosPage(here, work, null);
  },
  post: async (here, form, [id = '']) => {
    const work = workOf(here, id);
    const again = (problem: Problem) => (work === null ? notHere(here) : photosPage(here, work, problem));
    const file = here.files.get('photo');
    if (file === undefined || file.size === 0) return again(noPhoto);
    const { photoBytesMax: bytesMax, measure } = here;
    const checked = await checkPhotoFile(file, { bytesMax, measure });
    if (!checked.ok) return again(checked.problem);
    const photoId = isUuid(form.text('photo_id')) ? form.text('photo_id') : newId();
    const lineId = form.text('line_id');
    const retakeOf = form.text('retake_of');
    const body = {
      purpose: form.text('purpose'),
      line_id: lineId === '' ? null : lineId,
      captured_at: momentHere(takenAt(file)),
      ...(retakeOf === '' ? {} : { retake_of: retakeOf }),
    };
    // Also of a work order that was not taken along: the form says all that is sent.
    const trouble = await keep(here, { ...madeThen(here, id, photoId), kind: 'photo', body }, file);
    if (trouble !== null) return again({ ...notKept(trouble), field: 'photo' });
    return { goTo: work === null ? '/field/phone/waiting' : `${orderPath(work)}/photos` };
  },
};

const noPhoto = { code: 'invalid_input', detail: 'Take a photo, or choose one.', field: 'photo' } as const;

/** “Keep it, because …”: why a photo stays in spite of what is said against it. */
export const keepPhotoScreen: Screen = {
  path: /^\/field\/work-orders\/([0-9a-f-]{36})\/photos\/([0-9a-f-]{36})\/keep\/?$/,
  post: async (here, form, [id = '', photoId = '']) => {
    const work = workOf(here, id);
    if (work === null) return notHere(here);
    const reason = form.text('reason').trim();
    const overrideId = isUuid(form.text('override_id')) ? form.text('override_id') : newId();
    if (reason === '') return { goTo: `${orderPath(work)}/photos` };
    const body = { photo_id: photoId, reason };
    const trouble = await keep(here, { ...madeThen(here, id, overrideId), kind: 'photo_reason', body });
    if (trouble !== null) return photosPage(here, work, notKept(trouble));
    return { goTo: `${orderPath(work)}/photos` };
  },
};

async function photosPage(here: Here, work: PhoneWork, problem: Problem | null): Promise<Shown> {
  const { frame, owner, query, photoBytesMax } = here;
  // One that was taken again already is not asked for once more.
  const retake = query.get('retake');
  const photos = photosToTake(work, await warnedPhotos(here, work));
  const form = proposedForm(photos, {
    photoId: newId(),
    retake: retake !== null && work.retakes.has(retake) ? null : retake,
    lineId: query.get('line_id'),
    purpose: query.get('purpose'),
    choosing: query.get('choose') === 'yes',
  });
  const kept = { kept: null, lineKept: null, recordingCount: work.recorded.length };
  const shown = { photos, form, problem, bytesMax: photoBytesMax, ...kept };
  return { page: photosView({ ...shown, frame, owner: nameOf(owner), newId }) };
}

/** As the server lists them; of recordings only their number is known here. */
export function photosToTake(work: PhoneWork, warned: readonly WarnedPhoto[]): PhotosToTake {
  const lines = linesOf(work)
    .filter(({ row }) => row.answer !== 'declined')
    .map((line) => ({ ...line, id: line.lineId, photos: purposesOf(work, line.lineId) }));
  return {
    workOrder: headingOf(work),
    open: ['written_up', 'awaiting_approval', 'approved', 'in_work', 'done'].includes(work.state),
    lines: lines.map(({ id, label }) => ({ id, label })),
    needed: photosStillToTake(work.rules.photoRule, picturedBy(work), lines),
    photos: work.photos.map((photo) => ({ ...photo, ...asOnPhone })),
    recordings: [],
    warned,
  };
}

export function purposesOf({ photos }: PhoneWork, lineId: LineId): readonly PhotoPurpose[] {
  return photos.filter((photo) => photo.lineId === lineId).map(({ purpose }) => purpose);
}

/** What only the server tells of a photo, and no screen of the phone shows. */
const asOnPhone = {
  width: 0,
  height: 0,
  takenAtLocal: null,
  receivedAt: instant('1970-01-01T00:00:00Z'),
  retakeOf: null,
  ready: true,
  coveredOn: null,
  deletion: null,
};
