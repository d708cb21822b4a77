import 'fake-indexeddb/auto';
import { digestHex } from '@grainwright/domain';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { PhoneAction } from './action.ts';
import { sendWaiting } from './sender.ts';
import { openPhoneStore, type PhoneStore } from './store.ts';

/**
 * A service that does each action once by its id, as ours does, behind a line that loses what it is told to: a request
 * that never arrives, or an answer that never comes back. Parts of files are small, so that a file takes several.
 */
function service(losses: readonly ('nothing' | 'request' | 'answer')[]) {
  const done: string[] = [];
  const ids = new Set<string>();
  const uploads = new Map<string, { bytes: number; sha256: string; held: Uint8Array }>();
  const partBytesMax = 5;
  let asked = 0;
  const answer = (body: unknown, status = 200) =>
    new Response(JSON.stringify(body), { status, headers: { 'content-type': 'application/json' } });
  const stateOf = (id: string) => {
    const upload = uploads.get(id);
    if (upload === undefined) return answer({ code: 'not_found', detail: 'There is no such upload.' }, 404);
    const offset = upload.held.length;
    return answer({ offset, part_bytes_max: partBytesMax, complete: offset === upload.bytes });
  };
  const carryOut = async (path: string, init: RequestInit): Promise<Response> => {
    const method = init.method ?? 'GET';
    if (path === '/api/v1/uploads') {
      const { upload_id, bytes, sha256 } = JSON.parse(String(init.body));
      if (!uploads.has(upload_id)) uploads.set(upload_id, { bytes, sha256, held: new Uint8Array() });
      return stateOf(upload_id);
    }
    const uploadId = /^\/api\/v1\/uploads\/(.+)$/.exec(path)?.[1];
    if (uploadId !== undefined && method === 'GET') return stateOf(uploadId);
    if (uploadId !== undefined) {
      const upload = uploads.get(uploadId);
      if (upload === undefined) return stateOf(uploadId);
      const headers = new Headers(init.headers);
      if (Number(headers.get('upload-offset')) !== upload.held.length)
        return answer({ code: 'upload_offset', detail: 'The upload goes on elsewhere.' }, 409);
      const part = new Uint8Array(await new Response(init.body).arrayBuffer());
      upload.held = new Uint8Array([...upload.held, ...part]);
      return stateOf(uploadId);
    }
    const body = JSON.parse(String(init.body));
    const id: string = body.photo_id ?? body.id;
    if (body.upload_id !== undefined) {
      const upload = uploads.get(body.upload_id);
      if (upload === undefined || digestHex(upload.held) !== upload.sha256)
        return answer({ code: 'upload_missing', detail: 'The file is not whole.' }, 409);
    }
    if (!ids.has(id)) {
      ids.add(id);
      done.push(id);
    }
    return answer({ id }, 201);
  };
  return {
    done,
    uploads,
    fetch: async (path: string, init: RequestInit) => {
      const loss = losses[asked] ?? 'nothing';
      asked += 1;
      if (loss === 'request') throw new TypeError('Failed to fetch');
      const reply = await carryOut(path, init);
      if (loss === 'answer') throw new TypeError('Failed to fetch');
      return reply;
    },
  };
}

const order = '01990000-0000-7000-8000-000000000001';
const other = '01990000-0000-7000-8000-000000000002';
let stores = 0;

function freshStore(): Promise<PhoneStore> {
  stores += 1;
  return openPhoneStore({ tenantId: 'tenant', personId: `person-${stores}` });
}

function frame(id: string, workOrderId = order) {
  return { id, workOrderId, madeAt: '2026-08-05T09:00:00-05:00' };
}

function photo(id: string, lineId: string | null): PhoneAction {
  const body = { purpose: 'before', line_id: lineId, captured_at: '2026-08-05T09:00:00-05:00' };
  return { ...frame(id), kind: 'photo', body };
}

const story: readonly (readonly [PhoneAction, Blob?])[] = [
  [{ ...frame(order), kind: 'write_up', body: { id: order } }],
  [{ ...frame('line-1'), kind: 'line', body: { id: 'line-1' } }],
  [photo('photo-1', 'line-1'), new Blob(['seventeen letters'], { type: 'image/jpeg' })],
  [photo('photo-2', 'line-1'), new Blob(['another picture'], { type: 'image/jpeg' })],
  [{ ...frame('version-1'), kind: 'estimate', body: { id: 'version-1' } }],
  [{ ...frame('start-1'), kind: 'start', body: { id: 'start-1' } }],
];

test('whatever is lost on the way, each thing is done exactly once and in order', async () => {
  const losses = fc.array(fc.constantFrom('nothing' as const, 'request' as const, 'answer' as const), {
    maxLength: 40,
  });
  await fc.assert(
    fc.asyncProperty(losses, async (pattern) => {
      const store = await freshStore();
      const line = service(pattern);
      for (const [action, file] of story) await store.keepAction(action, file);
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

test('the same kept twice is one thing, with the file of the first', async () => {
  const store = await freshStore();
  await store.keepAction(photo('photo-1', null), new Blob(['first']));
  await store.keepAction(photo('photo-1', null), new Blob(['second']));
  expect(await store.listActions()).toHaveLength(1);
  expect(await (await store.readFile('photo-1'))?.text()).toBe('first');
  store.close();
});

test('a refusal stops what needs it, and nothing else', async () => {
  const store = await freshStore();
  for (const [action, file] of story) await store.keepAction(action, file);
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
  const says = (status: number) => async () =>
    new Response(JSON.stringify({ code: 'x', detail: 'Later.' }), { status });
  expect(await sendWaiting({ store, fetch: says(401), now: () => 'now' })).toBe('signed_out');
  for (const status of [429, 500, 502, 503])
    expect(await sendWaiting({ store, fetch: says(status), now: () => 'now' })).toBe('no_answer');
  const [kept] = await store.listActions();
  expect(kept).toMatchObject({ state: 'waiting', lastTry: 'Later.' });
  store.close();
});

test('what the service cannot take just now stops only what needs it', async () => {
  const store = await freshStore();
  for (const [action, file] of story) await store.keepAction(action, file);
  const line = service([]);
  let isBusy = true;
  const busy = async (path: string, init: RequestInit) =>
    isBusy && path.endsWith('/lines') ? new Response('Bad gateway', { status: 502 }) : line.fetch(path, init);
  await store.keepAction({ ...frame(other, other), kind: 'write_up', body: { id: other } });
  expect(await sendWaiting({ store, fetch: busy, now: () => 'now' })).toBe('no_answer');
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
    await store.keepAction(photo('photo-1', null), new Blob(['seventeen letters']));
    const line = service([]);
    let refusals = 0;
    let isDamaged = true;
    const damaging = async (path: string, init: RequestInit) => {
      if (!isDamaged || !path.endsWith('/from-upload')) return line.fetch(path, init);
      refusals += 1;
      line.uploads.clear();
      return new Response(JSON.stringify({ code, detail: 'Send it again.' }), { status: 422 });
    };
    const send = () => sendWaiting({ store, fetch: damaging, now: () => 'now' });
    expect(await send()).toBe('no_answer');
    expect(await store.listActions()).toMatchObject([{ state: 'waiting', lastTry: 'Send it again.' }]);
    while ((await send()) !== 'all') expect(refusals).toBeLessThan(10);
    expect(refusals).toBe(6);
    expect(await store.listActions()).toMatchObject([{ state: 'conflict', refusal: { code } }]);
    // Sent again by the person, it has all its tries once more.
    await store.markWaiting('photo-1');
    expect(await send()).toBe('no_answer');
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
