import 'fake-indexeddb/auto';
import { expect, test } from 'vitest';
import type { PhoneAction } from './action.ts';
import type { LeftOver } from './left-over.ts';
import { openPhoneStore, type PhoneStore } from './store.ts';

let stores = 0;

function freshStore(): Promise<PhoneStore> {
  stores += 1;
  return openPhoneStore({ tenantId: 'of-store', personId: `person-${stores}` });
}

const madeAt = '2026-08-05T09:00:00-05:00';

function recording(id: string): PhoneAction {
  return { id, workOrderId: 'order', madeAt, kind: 'recording', body: { captured_at: madeAt } };
}

function left(id: string, seconds = 0): LeftOver {
  return { id, workOrderId: 'order', startedAt: '2026-08-05T14:00:00.000Z', seconds, poster: null };
}

const text = async (store: PhoneStore, id: string) => (await store.readFile(id))?.text() ?? null;

test('one recording that was cut off never takes the place of another: each is offered until it is answered', async () => {
  const store = await freshStore();
  for (const id of ['cut-1', 'cut-2']) {
    await store.keepLeftOver(left(id));
    await store.keepPart(id, 0, new Blob([`of ${id}, `]));
    await store.keepPart(id, 1, new Blob(['and on']));
  }
  await store.keepLeftOver(left('cut-1', 2));
  expect(await store.listLeftOvers()).toEqual([left('cut-1', 2), left('cut-2')]);
  await store.dropLeftOver('cut-2');
  expect(await store.listLeftOvers()).toEqual([left('cut-1', 2)]);
  expect([await text(store, 'cut-1'), await text(store, 'cut-2')]).toEqual(['of cut-1, and on', null]);
  store.close();
});

test('one that has become an action is offered no more and keeps its parts, wherever the app was ended', async () => {
  const store = await freshStore();
  await store.keepLeftOver(left('cut-1'));
  await store.keepPart('cut-1', 0, new Blob(['a walk']));
  const kept = await store.keepAction(recording('cut-1'));
  expect(kept.file).toMatchObject({ bytes: 6 });
  expect(await store.listLeftOvers()).toEqual([]);
  await store.dropLeftOver('cut-1');
  await store.sweepParts();
  expect(await text(store, 'cut-1')).toBe('a walk');
  store.close();
});

test('parts that belong to nothing are swept, and no others', async () => {
  const store = await freshStore();
  await store.keepAction(recording('sent-1'), new Blob(['an action']));
  await store.keepLeftOver(left('cut-1'));
  for (const id of ['cut-1', 'nobody’s']) await store.keepPart(id, 0, new Blob([`of ${id}`]));
  await store.sweepParts();
  expect(await text(store, 'sent-1')).toBe('an action');
  expect(await text(store, 'cut-1')).toBe('of cut-1');
  expect(await text(store, 'nobody’s')).toBeNull();
  store.close();
});

test('an action that can’t be kept leaves nothing of its file', async () => {
  const store = await freshStore();
  // A function can’t be written.
  const unwritable: PhoneAction = { ...recording('broken-1'), kind: 'start', body: { id: () => 'broken-1' } };
  await expect(store.keepAction(unwritable, new Blob(['half']))).rejects.toThrow();
  expect(await store.listActions()).toEqual([]);
  expect(await text(store, 'broken-1')).toBeNull();
  expect((await store.keepAction(recording('broken-1'), new Blob(['whole']))).state).toBe('waiting');
  expect(await text(store, 'broken-1')).toBe('whole');
  store.close();
});

test('changes that the phone knows of are counted, and outlive the page', async () => {
  const store = await freshStore();
  expect(await store.countChanges()).toBe(0);
  await Promise.all([store.noteChange(), store.noteChange()]);
  store.close();
  const again = await openPhoneStore(store.owner);
  expect(await again.countChanges()).toBe(2);
  again.close();
});

test('the note of a given-up end of work stays as long as an answer waits for it, and keeps that back', async () => {
  const store = await freshStore();
  const frame = { workOrderId: 'order', madeAt };
  await store.keepAction({ ...frame, id: 'finish-1', kind: 'finish', body: {} });
  await store.keepAction({ ...frame, id: 'signed-1', kind: 'acceptance', body: {} });
  await store.markDropped('finish-1');
  await store.removeNote('finish-1');
  expect(await store.nextAction()).toBeNull();
  await store.markDropped('signed-1');
  await store.removeNote('finish-1');
  expect((await store.listActions()).map(({ action }) => action.id)).toEqual(['signed-1']);
  store.close();
});
