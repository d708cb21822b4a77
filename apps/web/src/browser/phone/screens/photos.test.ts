import 'fake-indexeddb/auto';
import { type Day, instant, type PersonId, toId } from '@grainwright/domain';
import { expect, test } from 'vitest';
import { FormValues } from '../../../plugins/form-values.ts';
import { openPhoneStore } from '../store.ts';
import { blurred, phoneWith, photoIds, photoOf, started } from './here.test-support.ts';
import { keepPhotoScreen, photosScreen } from './photos.ts';
import type { Here } from './screen.ts';
import { walkAroundScreen } from './walk-around.ts';

const order = '01990000-0000-7000-8000-000000000001';
const photoId = '01990000-0000-7000-8000-000000000002';
const recordingId = '01990000-0000-7000-8000-000000000003';
const person = toId<PersonId>('01990000-0000-7000-8000-00000000000a');

/** A phone that has taken no work order along. */
async function emptyPhone(files: Here['files']) {
  const owner = { tenantId: 't', personId: person };
  const store = await openPhoneStore(owner);
  const business = { name: 'Quillfeather', phone: '', currency: 'USD', timeZone: 'America/Chicago' };
  const today = '2026-08-05' as Day;
  const me = { name: 'Tobias Wrenfield', role: 'technician' as const };
  const snapshot = {
    takenAt: instant('2026-08-05T15:00:00Z'),
    today,
    person: { tenantId: 't', id: person, ...me },
    business,
    ...{ stops: [], places: [], repairs: [], factors: [], workOrders: [] },
  };
  return {
    owner,
    store,
    files,
    day: { snapshot, workOrders: [] },
    actions: [],
    path: '',
    query: new URLSearchParams(),
    promised: false,
    send: () => undefined,
    mending: null,
    photoBytesMax: 40_000_000,
    measure: async () => ({
      ...{ width: 1600, height: 1200 },
      measures: { sharpness: 900, dark: 0, washedOut: 0, hash: '0'.repeat(16), print: '' },
    }),
  };
}

const jpeg = new Uint8Array([0xff, 0xd8, 0xff, 0xe0]);

test('what was filmed and photographed of a work order that is not on the phone is kept to be sent', async () => {
  const picture = new File([jpeg, 'seventeen letters'], 'a.jpg', { type: 'image/jpeg' });
  const film = new File(['a walk around'], 'a.webm', { type: 'video/webm' });
  const phone = await emptyPhone(
    new Map([
      ['photo', picture],
      ['recording', film],
    ]),
  );
  // No page is shown, so no frame is read.
  const here = { ...phone, sentAt: new Date('2026-08-05T15:00:00Z') } as unknown as Here;
  const form = new FormValues({ photo_id: photoId, purpose: 'before', line_id: '' });
  expect(await photosScreen.post?.(here, form, [order])).toEqual({ goTo: '/field/phone/waiting' });
  const walk = new FormValues({ recording_id: recordingId });
  expect(await walkAroundScreen.post?.(here, walk, [order])).toEqual({ goTo: '/field/phone/waiting' });
  expect(await phone.store.listActions()).toMatchObject([
    {
      state: 'waiting',
      action: { id: photoId, workOrderId: order, kind: 'photo', body: { purpose: 'before' } },
    },
    { state: 'waiting', action: { id: recordingId, workOrderId: order, kind: 'recording' } },
  ]);
  expect(await (await phone.store.readFile(photoId))?.text()).toContain('seventeen letters');
  phone.store.close();
});

test('what the server will never take is not kept as a photo, and it is said what to do', async () => {
  const phone = await phoneWith(started);
  const heic = new Uint8Array([...'\0\0\0\x18ftypheic\0\0\0\0mif1heic'].map((each) => each.charCodeAt(0)));
  const tried = async (file: File, more: Partial<Here> = {}) => {
    const here = { ...(await phone.here('/', new Map([['photo', file]]))), ...more };
    const shown = await photosScreen.post?.(here, new FormValues({ purpose: 'before', line_id: '' }), [
      order,
    ]);
    return shown !== undefined && 'page' in shown ? shown.page.toString() : JSON.stringify(shown);
  };
  expect(await tried(new File([heic], 'IMG_1.HEIC'))).toContain('choose “Most Compatible” (JPEG)');
  const large = new File([jpeg, new Uint8Array(2000)], 'large.jpg', { type: 'image/jpeg' });
  expect(await tried(large, { photoBytesMax: 1000 })).toContain('the most that is taken');
  expect(await tried(new File([jpeg], 'cut.jpg'), { measure: async () => null })).toContain(
    'ends early or is damaged',
  );
  expect((await phone.store.listActions()).some(({ action }) => action.kind === 'photo')).toBe(false);
  expect(await tried(new File([jpeg, 'good'], 'good.jpg'))).toContain('goTo');
});

test('what is said against a photo stands beside it without signal, with the retake and the reason', async () => {
  const photos = [photoOf('before', photoIds.before), photoOf('after', photoIds.after)];
  const phone = await phoneWith([...started, ...photos], { [photoIds.after]: blurred });
  const shown = await photosScreen.get?.(await phone.here(), [order]);
  const page = shown !== undefined && 'page' in shown ? shown.page.toString() : '';
  expect(page).toContain('This photo looks blurred.');
  expect(page).toContain(`photos?retake=${photoIds.after}`);
  for (const id of Object.values(photoIds)) expect(page.split(`/photos/${id}/thumb`).length).toBeLessThan(3);
  const keeping = new FormValues({ override_id: photoId, reason: 'The ruler can be read.' });
  await keepPhotoScreen.post?.(await phone.here(), keeping, [order, photoIds.after]);
  const again = await photosScreen.get?.(await phone.here(), [order]);
  const after = again !== undefined && 'page' in again ? again.page.toString() : '';
  expect(after).toContain('“The ruler can be read.”');
  expect(after).not.toContain('retake=');
});
