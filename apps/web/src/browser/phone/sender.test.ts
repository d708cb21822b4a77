import 'fake-indexeddb/auto';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { PhoneAction } from './action.ts';
import { OtherThingError } from './phone-database.ts';
import { sendWaiting } from './sender.ts';
import {
  acceptance,
  act,
  begin,
  drawn,
  frame,
  freshStore,
  keepAll,
  type Loss,
  order,
  other,
  photo,
  picture,
  service,
  shownOf,
  story,
  visit,
} from './sending.test-support.ts';
import { openPhoneStore } from './store.ts';

test('whatever is lost on the way, each thing is done exactly once and in order', async () => {
  const losses = fc.array(fc.constantFrom('nothing' as const, 'request' as const, 'answer' as const), {
    maxLength: 40,
  });
  await fc.assert(
    fc.asyncProperty(losses, async (pattern) => {
      const store = await freshStore();
      const line = service(pattern);
      await keepAll(store, story);
      // Every try ends at a loss; there are at most as many as the pattern has.
      for (let tries = 0; tries <= pattern.length; tries += 1)
        if ((await sendWaiting({ store, fetch: line.fetch, now: () => 'now' })) === 'all') break;
      expect(line.done).toEqual(story.map(([action]) => action.id));
      expect((await store.listActions()).map(({ state }) => state)).toEqual(story.map(() => 'sent'));
      const held = line.uploads.get('photo-1')?.held ?? new Uint8Array();
      expect(new TextDecoder().decode(held)).toBe('seventeen letters');
      store.close();
    }),
    { numRuns: 40 },
  );
});

test('whatever is put off or refused in the middle of a visit, nothing goes out too early and what was signed holds', async () => {
  const kinds: readonly Loss[] = ['request', 'answer', 'busy', 'too_many', 'damaged', 'refused'];
  // Long enough to reach the acceptance; most requests come through, so that losses fall on every one of them.
  const losses = fc.array(
    fc.oneof({ weight: 3, arbitrary: fc.constant<Loss>('nothing') }, fc.constantFrom(...kinds)),
    { minLength: 10, maxLength: 80 },
  );
  await fc.assert(
    fc.asyncProperty(losses, async (pattern) => {
      const store = await freshStore();
      const line = service(pattern);
      await keepAll(store, visit);
      const isLeft = async () => (await store.listActions()).some(({ state }) => state !== 'sent');
      for (let tries = 0; tries <= 2 * pattern.length && (await isLeft()); tries += 1) {
        await sendWaiting({ store, fetch: line.fetch, now: () => 'now' });
        for (const { action, state, refusal } of await store.listActions()) {
          if (state !== 'conflict') continue;
          expect(drawn, `${action.id} was refused with ${refusal?.code}`).toContain(refusal?.code);
          await store.markWaiting(action.id);
        }
      }
      const order1 = line.orders.get(order);
      expect(order1?.state).toBe('accepted');
      expect(line.done.toSorted()).toEqual(visit.map(([{ id }]) => id).toSorted());
      expect(order1?.lines).toEqual(['line-1', 'line-2']);
      const photos = visit.flatMap(([action]) => (action.kind === 'photo' ? [action] : []));
      const sent = order1?.photos.map(({ id }) => id);
      // Only behind a refused step may one of another purpose come first: it may be what the step lacks.
      if (!pattern.includes('refused')) expect(sent).toEqual(photos.map(({ id }) => id));
      const taken = photos.map(({ id, body }) => ({ id, purpose: body.purpose }));
      expect(shownOf(order1 ?? { photos: [] })).toEqual(shownOf({ photos: taken }));
      store.close();
    }),
    { numRuns: 60, seed: 20260805 },
  );
});

test.each(['/estimate', '/start'])(
  'a photo of the repaired part waits for %s, put off or refused',
  async (step) => {
    const store = await freshStore();
    await keepAll(store, visit.slice(0, 8));
    const line = service([]);
    let says: Response | null = null;
    const fetch = async (path: string, init: RequestInit) =>
      says !== null && path.endsWith(step) ? says.clone() : line.fetch(path, init);
    const send = () => sendWaiting({ store, fetch, now: () => 'now' });
    says = new Response('Bad gateway', { status: 502 });
    await send();
    says = new Response(JSON.stringify({ code: 'drawn', detail: 'No.' }), { status: 409 });
    await send();
    const states = (await store.listActions()).map(({ action, state }) => `${action.id} ${state}`);
    expect(states).toContain('after-1 waiting');
    says = null;
    for (const { action, state } of await store.listActions())
      if (state === 'conflict') await store.markWaiting(action.id);
    expect(await send()).toBe('all');
    expect(line.done).toContain('after-1');
    store.close();
  },
);

test('what a refused start lacks can be taken and sent, also after photos of the repaired part', async () => {
  const store = await freshStore();
  await keepAll(store, [
    ...visit.slice(0, 2),
    [act('estimate', 'version-1')],
    [act('start', 'start-1')],
    [photo('after-1', 'line-1', 'after'), picture('it is done')],
  ]);
  const line = service([]);
  const send = () => sendWaiting({ store, fetch: line.fetch, now: () => 'now' });
  expect(await send()).toBe('all');
  const start = (await store.listActions()).find(({ action }) => action.id === 'start-1');
  expect(start).toMatchObject({ state: 'conflict', refusal: { code: 'photo_missing' } });
  await store.keepAction(photo('photo-1', 'line-1'), picture('as it came'));
  // Given up and done again, it stands behind the photo that waits for it.
  await store.markDropped('start-1');
  await store.keepAction(act('start', 'start-2'));
  expect(await send()).toBe('all');
  expect(line.done).toEqual([order, 'line-1', 'version-1', 'photo-1', 'start-2', 'after-1']);
  store.close();
});

test('an answer waits behind an end of work that was refused, and behind the one that is made in its place', async () => {
  const store = await freshStore();
  const withoutAfter = visit.filter(([{ id }]) => !id.startsWith('after-') && !id.startsWith('acceptance-'));
  const signed = acceptance('acceptance-1', ['photo-1', 'photo-2', 'photo-3', 'after-1']);
  await keepAll(store, [...withoutAfter, [signed]]);
  const line = service([]);
  const send = () => sendWaiting({ store, fetch: line.fetch, now: () => 'now' });
  const stateOf = async (id: string) =>
    (await store.listActions()).find(({ action }) => action.id === id)?.state;
  expect(await send()).toBe('all');
  expect([await stateOf('finish-1'), await stateOf('acceptance-1')]).toEqual(['conflict', 'waiting']);
  await store.markDropped('finish-1');
  expect(await send()).toBe('all');
  expect(await stateOf('acceptance-1')).toBe('waiting');
  await store.keepAction(photo('after-1', 'line-1', 'after'), picture('it is done'));
  await store.keepAction(act('finish', 'finish-2'));
  expect(await send()).toBe('all');
  expect(line.done.slice(-3)).toEqual(['after-1', 'finish-2', 'acceptance-1']);
  store.close();
});

test('an answer whose end of work was given up goes out once the office has finished the work, or can be given up', async () => {
  const store = await freshStore();
  const finish = act('finish', 'finish-1');
  await keepAll(store, [[finish], [acceptance('acceptance-1', [])]]);
  await store.markDropped('finish-1');
  expect(await store.nextAction()).toBeNull();
  const snapshot = (state: string) => ({
    askedAt: '2026-08-05T15:00:00Z',
    snapshot: { workOrders: [{ id: order, state }] },
  });
  await store.keepSnapshot(snapshot('in_work'));
  expect(await store.nextAction()).toBeNull();
  await store.keepSnapshot(snapshot('done'));
  expect((await store.nextAction())?.action.id).toBe('acceptance-1');
  store.close();
});

test('an end of work that came through is not forgotten while the answer behind it waits', async () => {
  const store = await freshStore();
  await keepAll(store, [[act('finish', 'finish-1')]]);
  await store.markDropped('finish-1');
  await keepAll(store, [[acceptance('acceptance-1', [])], [act('finish', 'finish-2')]]);
  await store.markSent('finish-2', '2026-08-05T15:00:00Z');
  await store.forgetSent('2026-08-06T15:00:00Z');
  expect((await store.nextAction())?.action.id).toBe('acceptance-1');
  await store.markSent('acceptance-1', '2026-08-05T15:00:00Z');
  await store.forgetSent('2026-08-06T15:00:00Z');
  expect((await store.listActions()).map(({ action }) => action.id)).toEqual(['finish-1']);
  store.close();
});

test('a refused action is mended in its place, under its own id unless that is taken', async () => {
  const store = await freshStore();
  await keepAll(store, visit);
  const finish = act('finish', 'finish-1');
  const mended = { ...finish, body: { id: 'finish-1', technician_minutes: '45' } } as PhoneAction;
  expect(await store.amendAction(mended)).toBeNull();
  const refuse = (code: string) =>
    store.markConflict('finish-1', { status: 409, code, detail: 'Refused.' }, null);
  await refuse('contradiction');
  expect(await store.amendAction(act('estimate', 'finish-1'))).toBeNull();
  expect(await store.amendAction(mended)).toBe('finish-1');
  const places = (await store.listActions()).map(({ action }) => action.id);
  expect(places).toEqual(visit.map(([{ id }]) => id));
  expect((await store.listActions()).at(-2)).toMatchObject({
    action: mended,
    state: 'waiting',
    refusal: null,
  });
  await refuse('id_reused');
  const fresh = await store.amendAction(mended);
  expect(fresh).not.toBe('finish-1');
  expect((await store.listActions()).at(-2)).toMatchObject({
    action: { id: fresh, kind: 'finish', body: { id: fresh, technician_minutes: '45' } },
    state: 'waiting',
  });
  // Photos name their line by its id, so that stays.
  await store.markConflict('line-1', { status: 409, code: 'id_reused', detail: 'Refused.' }, null);
  expect(await store.amendAction(act('line', 'line-1'))).toBe('line-1');
  store.close();
});

test('the same kept twice is one thing, with the file of the first', async () => {
  const store = await freshStore();
  await store.keepAction(photo('photo-1', null), picture('first'));
  await store.keepAction(photo('photo-1', null), picture('first'));
  // The page was gone back to, and another file chosen in it.
  await expect(store.keepAction(photo('photo-1', null), picture('second'))).rejects.toThrow(OtherThingError);
  expect(await store.listActions()).toHaveLength(1);
  expect(await (await store.readFile('photo-1'))?.text()).toBe('first');
  store.close();
});

test('a refusal stops what needs it, and nothing else', async () => {
  const store = await freshStore();
  await keepAll(store, story);
  await store.keepAction({ ...frame(other, other), kind: 'write_up', body: { id: other } });
  const line = service([]);
  const refused = async (path: string, init: RequestInit) =>
    init.method === 'POST' && path.endsWith('/estimate')
      ? new Response(JSON.stringify({ code: 'wrong_state', detail: 'It is void.' }), { status: 409 })
      : line.fetch(path, init);
  expect(await sendWaiting({ store, fetch: refused, now: () => 'now' })).toBe('all');
  const states = (await store.listActions()).map(({ action, state }) => [action.kind, state]);
  expect(states).toEqual([
    ['write_up', 'sent'],
    ['line', 'sent'],
    ['photo', 'sent'],
    ['photo', 'sent'],
    ['estimate', 'conflict'],
    ['start', 'waiting'],
    ['write_up', 'sent'],
  ]);
  const [conflict] = (await store.listActions()).filter(({ state }) => state === 'conflict');
  expect(conflict?.refusal).toMatchObject({ code: 'wrong_state', detail: 'It is void.' });
  store.close();
});

test('somebody who is signed out, and a service that is busy, settle nothing', async () => {
  const store = await freshStore();
  await store.keepAction({ ...frame(order), kind: 'write_up', body: { id: order } });
  const says =
    (status: number, code = 'x') =>
    async () =>
      new Response(JSON.stringify({ code, detail: 'Later.' }), { status });
  expect(await sendWaiting({ store, fetch: says(401, 'not_signed_in'), now: () => 'now' })).toBe(
    'signed_out',
  );
  // A network that wants a sign-in of its own says 401, too.
  expect(await sendWaiting({ store, fetch: says(401), now: () => 'now' })).toBe('no_answer');
  for (const status of [429, 500, 502, 503])
    expect(await sendWaiting({ store, fetch: says(status), now: () => 'now' })).toBe('later');
  const [kept] = await store.listActions();
  expect(kept).toMatchObject({ state: 'waiting', lastTry: 'Later.' });
  store.close();
});

test('what the service cannot take just now stops only what needs it', async () => {
  const store = await freshStore();
  await keepAll(store, story);
  const line = service([]);
  let isBusy = true;
  const busy = async (path: string, init: RequestInit) =>
    isBusy && path.endsWith('/lines') ? new Response('Bad gateway', { status: 502 }) : line.fetch(path, init);
  await store.keepAction({ ...frame(other, other), kind: 'write_up', body: { id: other } });
  expect(await sendWaiting({ store, fetch: busy, now: () => 'now' })).toBe('later');
  expect(line.done).toEqual([order, other]);
  const tried = (await store.listActions()).find(({ action }) => action.id === 'line-1');
  expect(tried).toMatchObject({ state: 'waiting', lastTry: 'The service answered 502.' });
  isBusy = false;
  expect(await sendWaiting({ store, fetch: busy, now: () => 'now' })).toBe('all');
  expect(line.done).toEqual([order, other, ...story.slice(1).map(([action]) => action.id)]);
  store.close();
});

test.each(['upload_digest', 'upload_unfinished'])(
  'a file refused with %s is sent again, but not without end',
  async (code) => {
    const store = await freshStore();
    await store.keepAction(photo('photo-1', null), picture('seventeen letters'));
    const line = service([]);
    begin(line.orders, order);
    let refusals = 0;
    let isDamaged = true;
    const damaging = async (path: string, init: RequestInit) => {
      if (!isDamaged || !path.endsWith('/from-upload')) return line.fetch(path, init);
      refusals += 1;
      line.uploads.clear();
      return new Response(JSON.stringify({ code, detail: 'Send it again.' }), { status: 422 });
    };
    const send = () => sendWaiting({ store, fetch: damaging, now: () => 'now' });
    expect(await send()).toBe('later');
    expect(await store.listActions()).toMatchObject([{ state: 'waiting', lastTry: 'Send it again.' }]);
    while ((await send()) !== 'all') expect(refusals).toBeLessThan(10);
    expect(refusals).toBe(6);
    expect(await store.listActions()).toMatchObject([{ state: 'conflict', refusal: { code } }]);
    // Sent again by the person, it has all its tries once more.
    await store.markWaiting('photo-1');
    expect(await send()).toBe('later');
    isDamaged = false;
    expect(await send()).toBe('all');
    expect(line.done).toEqual(['photo-1']);
    store.close();
  },
);

test('what one person has kept on a phone, another neither sees nor sends', async () => {
  const mine = await openPhoneStore({ tenantId: 't', personId: 'one' });
  const theirs = await openPhoneStore({ tenantId: 't', personId: 'two' });
  await mine.keepAction(photo('photo-1', null), new Blob(['mine']));
  expect(await theirs.listActions()).toEqual([]);
  expect(await theirs.readFile('photo-1')).toBeNull();
  mine.close();
  theirs.close();
});

test.each([
  {
    what: { ...frame(order), kind: 'write_up', body: { account_id: 'a', vin: '', last_eight: 'SK000104' } },
    lists: '/api/v1/accounts/a/vehicle-look-up?vin=SK000104&own_number=&day=',
  },
  {
    what: { ...frame('line-1'), kind: 'line', body: {} },
    lists: `/api/v1/work-orders/${order}/earlier-work`,
  },
] satisfies readonly { readonly what: PhoneAction; readonly lists: string }[])(
  'beside what was written up before ($what.kind), the work order that the refusal names is kept',
  async ({ what, lists }) => {
    const store = await freshStore();
    await store.keepAction(what);
    const answers = new Map<string, unknown>([
      [
        lists,
        {
          earlier: [
            { id: 'other-1', number: '1161' },
            { id: 'other-2', number: '116' },
          ],
        },
      ],
      ['/api/v1/work-orders/other-2', { id: 'other-2', number: '116' }],
    ]);
    const detail = 'This vehicle was written up lately: WO-116 of August 4. Open WO-116 instead.';
    const fetch = async (path: string, { method }: RequestInit) =>
      method === 'POST'
        ? Response.json({ code: 'duplicate', detail }, { status: 409 })
        : Response.json(answers.get(path) ?? {}, { status: answers.has(path) ? 200 : 404 });
    expect(await sendWaiting({ store, fetch, now: () => 'now' })).toBe('all');
    expect(await store.listActions()).toMatchObject([
      { state: 'conflict', serverHas: { id: 'other-2', number: '116' } },
    ]);
    store.close();
  },
);
