import { instant, isUuid, type LineId, neededPhotos, type PhotoPurpose } from '@grainwright/domain';
import type { PhotosToTake } from '@grainwright/operations';
import { dueNow } from '../../../pages/field/photos/due-now.ts';
import { photosView } from '../../../pages/field/photos/view.ts';
import { takenAt } from '../../camera/taken-at.ts';
import { momentHere } from '../moment-here.ts';
import { newId } from '../new-id.ts';
import type { PhoneWork } from '../projection.ts';
import { nameOf } from '../sender.ts';
import { type Here, keep, madeNow, orderPath, type Screen, type Shown, workOf } from './screen.ts';
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
    const again = (trouble: string) => (work === null ? notHere(here) : photosPage(here, work, trouble));
    const file = here.files.get('photo');
    if (file === undefined || file.size === 0) return again('Take a photo, or choose one.');
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
    const trouble = await keep(here, { ...madeNow(id, photoId), kind: 'photo', body }, file);
    if (trouble !== null) return again(trouble);
    return { goTo: work === null ? '/field/phone/waiting' : `${orderPath(work)}/photos` };
  },
};

function photosPage({ frame, owner, query }: Here, work: PhoneWork, trouble: string | null): Shown {
  const photos = photosToTake(work);
  const [first] = dueNow(photos);
  const purpose = query.get('purpose');
  const form = {
    photoId: newId(),
    lineId: query.get('line_id') ?? (first === undefined ? photos.lines[0]?.id : first.lineId) ?? '',
    purpose: purpose ?? first?.purposes[0] ?? '',
    retakeOf: query.get('retake') ?? '',
    choosing: query.get('choose') === 'yes' || (purpose === null && first === undefined),
  };
  const problem =
    trouble === null ? null : ({ code: 'unavailable', detail: trouble, field: 'photo' } as const);
  const page = { frame, owner: nameOf(owner), newId, photos, form, problem, kept: null, lineKept: null };
  return { page: photosView(page) };
}

export function photosToTake(work: PhoneWork): PhotosToTake {
  const lines = linesOf(work).filter(({ row }) => row.answer !== 'declined');
  const rule = work.rules.photoRule;
  const missing = rule === 'retail' && !picturedBy(work).includes('walk_around');
  const ofVehicle = { lineId: null, label: 'The vehicle as it came', purposes: walkAround };
  return {
    workOrder: headingOf(work),
    open: ['written_up', 'awaiting_approval', 'approved', 'in_work', 'done'].includes(work.state),
    lines: lines.map(({ lineId, label }) => ({ id: lineId, label })),
    needed: [
      ...(missing ? [ofVehicle] : []),
      ...lines.flatMap(({ lineId, label, repairsDamage }) => {
        const own = { label, repairsDamage, photos: purposesOf(work, lineId) };
        return neededPhotos(rule, own).map((purposes) => ({ lineId, label, purposes }));
      }),
    ],
    photos: work.photos.map((photo) => ({ ...photo, ...asOnPhone })),
    recordings: [],
    warned: [],
  };
}

const walkAround: readonly PhotoPurpose[] = ['walk_around'];

export function purposesOf({ photos }: PhoneWork, lineId: LineId): readonly PhotoPurpose[] {
  return photos.filter((photo) => photo.lineId === lineId).map(({ purpose }) => purpose);
}

/** What only the server tells of a photo, and no screen of the phone shows. */
const asOnPhone = {
  width: 0,
  height: 0,
  takenAtLocal: null,
  receivedAt: instant('1970-01-01T00:00:00Z'),
  ready: true,
  coveredOn: null,
  deletion: null,
};
