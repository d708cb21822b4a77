import 'fake-indexeddb/auto';
import { type Day, instant, type PersonId, toId } from '@grainwright/domain';
import { expect, test } from 'vitest';
import { FormValues } from '../../../plugins/form-values.ts';
import { openPhoneStore } from '../store.ts';
import { photosScreen } from './photos.ts';
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
  };
}

test('what was filmed and photographed of a work order that is not on the phone is kept to be sent', async () => {
  const picture = new File(['seventeen letters'], 'a.jpg', { type: 'image/jpeg' });
  const film = new File(['a walk around'], 'a.webm', { type: 'video/webm' });
  const phone = await emptyPhone(
    new Map([
      ['photo', picture],
      ['recording', film],
    ]),
  );
  // No page is shown, so no frame is read.
  const here = phone as unknown as Here;
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
  expect(await (await phone.store.readFile(photoId))?.text()).toBe('seventeen letters');
  phone.store.close();
});
