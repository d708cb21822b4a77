import { createHash, randomBytes } from 'node:crypto';
import { readdir } from 'node:fs/promises';
import type { PhotoId } from '@grainwright/domain';
import { listPhotosToTake } from '@grainwright/operations';
import { beforeAll, expect, test } from 'vitest';
import { openWeb, type Web } from './support/web.ts';
import { aJpeg, asAdministrator, type WorkInHand, writtenUpLine } from './support/work-in-hand.ts';
import {
  type Account,
  aBusiness,
  anAccount,
  type Business,
  must,
  openWorld,
  type World,
} from './support/world.ts';

/** Files that come in parts, by the API. Content-Digest: RFC 9530 §2; problem details: RFC 9457. */

let world: World;
let business: Business;
let installer: Account;
let web: Web;
let token: { authorization: string };

beforeAll(async () => {
  world = await openWorld();
  business = await aBusiness(world);
  installer = await anAccount(business, { limit: null });
  web = await openWeb(world);
  token = await web.signIn(business.emailOf('technician'), business.password);
});

const hexOf = (bytes: Buffer) => createHash('sha256').update(bytes).digest('hex');
const digestHeader = (bytes: Buffer) => `sha-256=:${createHash('sha256').update(bytes).digest('base64')}:`;

async function announce(bytes: Buffer, change: Record<string, unknown> = {}, headers = token) {
  const payload = {
    upload_id: world.newId(),
    bytes: bytes.length,
    sha256: hexOf(bytes),
    media_type: 'image/jpeg',
    ...change,
  };
  const reply = await web.app.inject({ method: 'POST', url: '/api/v1/uploads', headers, payload });
  return { reply, id: payload.upload_id };
}

async function sendPart(id: string, offset: number, part: Buffer, headers: Record<string, string> = {}) {
  return web.app.inject({
    method: 'PATCH',
    url: `/api/v1/uploads/${id}`,
    headers: {
      ...token,
      'content-type': 'application/octet-stream',
      'upload-offset': String(offset),
      'content-digest': digestHeader(part),
      ...headers,
    },
    payload: part,
  });
}

const read = (id: string, headers = token) =>
  web.app.inject({ method: 'GET', url: `/api/v1/uploads/${id}`, headers });

async function addFrom(id: string, work: WorkInHand, change: Record<string, unknown> = {}) {
  const payload = {
    photo_id: world.newId<PhotoId>(),
    upload_id: id,
    purpose: 'before',
    line_id: work.lineId,
    ...change,
  };
  const url = `/api/v1/work-orders/${work.workOrderId}/photos/from-upload`;
  return { reply: await web.app.inject({ method: 'POST', url, headers: token, payload }), payload };
}

/** Announced and sent in two parts. */
async function uploaded(bytes: Buffer): Promise<string> {
  const { id } = await announce(bytes);
  const half = Math.floor(bytes.length / 2);
  expect((await sendPart(id, 0, bytes.subarray(0, half))).json()).toMatchObject({ offset: half });
  expect((await sendPart(id, half, bytes.subarray(half))).json()).toMatchObject({ complete: true });
  return id;
}

const photosOf = async ({ workOrderId }: WorkInHand) =>
  must(await listPhotosToTake(world.services, business.technician, workOrderId)).photos;

async function keysOf(kind: string): Promise<readonly string[]> {
  const found: string[] = [];
  for await (const { key } of world.objects.list(business.tenantId))
    if (key.split('/')[2] === kind) found.push(key);
  return found;
}

test('a photo sent in parts is the photo as it was, once, and its parts are gone', async () => {
  const work = await writtenUpLine(installer);
  const bytes = await aJpeg();
  const { reply, id } = await announce(bytes);
  expect([reply.statusCode, reply.json()]).toEqual([
    201,
    { upload_id: id, bytes: bytes.length, offset: 0, part_bytes_max: 4_194_304, complete: false },
  ]);
  const first = await sendPart(id, 0, bytes.subarray(0, 700));
  expect([first.statusCode, first.json()]).toEqual([
    200,
    { upload_id: id, bytes: bytes.length, offset: 700, part_bytes_max: 4_194_304, complete: false },
  ]);
  expect((await read(id)).json()).toEqual(first.json());
  expect((await sendPart(id, 700, bytes.subarray(700))).json()).toMatchObject({ complete: true });
  const captured = { captured_at: '2026-08-05T08:58:30-05:00' };
  const { reply: added, payload } = await addFrom(id, work, captured);
  expect([added.statusCode, added.json()]).toEqual([
    201,
    { id: payload.photo_id, sha256: hexOf(bytes), warnings: expect.any(Array) },
  ]);
  const original = await web.app.inject({
    method: 'GET',
    url: `/api/v1/photos/${payload.photo_id}/original`,
    headers: token,
  });
  expect(original.rawPayload).toEqual(bytes);
  expect(await keysOf('part')).toEqual([]);
  const [row] = await asAdministrator(
    world,
    (sql) => sql`select captured_at::text, retake_of from photos where id = ${payload.photo_id}`,
  );
  expect(row).toEqual({ captured_at: '2026-08-05 13:58:30+00', retake_of: null });
  // The answer was lost: the phone sends everything again.
  const again = await addFrom(id, work, { ...captured, photo_id: payload.photo_id });
  expect([again.reply.statusCode, again.reply.json()]).toEqual([201, added.json()]);
  const goOn = await announce(bytes, { upload_id: id });
  expect([goOn.reply.statusCode, goOn.reply.json()]).toMatchObject([200, { complete: true }]);
  expect(await photosOf(work)).toHaveLength(1);
});

test('a photo whose page did not say when it was taken is the same when the phone does, but not at two moments', async () => {
  const work = await writtenUpLine(installer);
  const bytes = await aJpeg();
  const { reply: added, payload } = await addFrom(await uploaded(bytes), work);
  expect(added.statusCode).toBe(201);
  const same = { photo_id: payload.photo_id, captured_at: '2026-08-05T08:58:30-05:00' };
  const again = await addFrom(payload.upload_id, work, same);
  expect([again.reply.statusCode, again.reply.json()]).toEqual([201, added.json()]);
  const taken = await addFrom(await uploaded(await aJpeg()), work, { captured_at: same.captured_at });
  const later = { photo_id: taken.payload.photo_id, captured_at: '2026-08-05T09:58:30-05:00' };
  const moved = await addFrom(taken.payload.upload_id, work, later);
  expect([taken.reply.statusCode, moved.reply.json()]).toMatchObject([201, { code: 'id_reused' }]);
});

test('a part that is held already answers as the first time, and one that begins elsewhere says where to go on', async () => {
  const bytes = randomBytes(3000);
  const { id } = await announce(bytes);
  const parts = [bytes.subarray(0, 1000), bytes.subarray(1000, 2000), bytes.subarray(2000)] as const;
  const first = await sendPart(id, 0, parts[0]);
  await sendPart(id, 1000, parts[1]);
  expect((await sendPart(id, 0, parts[0])).json()).toEqual(first.json());
  for (const [offset, part] of [
    [0, parts[1]],
    [500, parts[0]],
    [2500, parts[2]],
  ] as const) {
    const elsewhere = await sendPart(id, offset, part);
    expect([elsewhere.statusCode, elsewhere.headers['upload-offset'], elsewhere.json()]).toEqual([
      409,
      '2000',
      expect.objectContaining({ type: '/problems/upload_offset', code: 'upload_offset', offset: 2000 }),
    ]);
    expect(elsewhere.headers['content-type']).toContain('application/problem+json');
  }
  const both = await Promise.all([sendPart(id, 2000, parts[2]), sendPart(id, 2000, parts[2])]);
  expect(both.map((reply) => reply.json())).toEqual(
    both.map(() => expect.objectContaining({ offset: 3000, complete: true })),
  );
});

test('a part that arrives changed, too long, empty or without its digest is not kept', async () => {
  const bytes = randomBytes(3000);
  const { id } = await announce(bytes);
  const codeOf = async (reply: Promise<{ statusCode: number; json(): { code: string } }>) => {
    const { statusCode, json } = await reply;
    return [statusCode, json().code];
  };
  const changed = sendPart(id, 0, bytes.subarray(1), { 'content-digest': digestHeader(bytes) });
  expect(await codeOf(changed)).toEqual([422, 'upload_digest']);
  expect(await codeOf(sendPart(id, 0, Buffer.concat([bytes, bytes])))).toEqual([422, 'invalid_input']);
  expect(await codeOf(sendPart(id, 0, Buffer.alloc(0)))).toEqual([422, 'upload_digest']);
  const undigested = sendPart(id, 0, bytes, { 'content-digest': 'sha-512=:AAAA:' });
  expect(await codeOf(undigested)).toEqual([422, 'invalid_input']);
  expect(await codeOf(sendPart(id, 0, bytes, { 'upload-offset': '-1' }))).toEqual([422, 'invalid_input']);
  expect((await read(id)).json()).toMatchObject({ offset: 0 });
  expect((await keysOf('part')).filter((key) => key.includes(id))).toEqual([]);
  expect(await readdir(world.objects.temporaryDirectory)).toEqual([]);
});

test('what will not be taken is refused before a byte of it is sent', async () => {
  const bytes = randomBytes(10);
  const refused = async (change: Record<string, unknown>) => {
    const { statusCode, json } = (await announce(bytes, change)).reply;
    const { code, detail } = json<{ code: string; detail: string }>();
    return [statusCode, code, detail];
  };
  expect(await refused({ bytes: 20_000_001 })).toMatchObject([
    413,
    'photo_too_large',
    expect.stringContaining('20 MB'),
  ]);
  expect(await refused({ bytes: 250_000_001, media_type: 'video/webm' })).toMatchObject([
    413,
    'recording_too_large',
    expect.stringContaining('250 MB'),
  ]);
  expect(await refused({ media_type: 'image/heic' })).toMatchObject([
    415,
    'photo_not_an_image',
    expect.stringContaining('Most Compatible'),
  ]);
  expect(await refused({ media_type: 'image/svg+xml' })).toMatchObject([
    415,
    'photo_not_an_image',
    expect.stringContaining('image/jpeg'),
  ]);
  expect(await refused({ bytes: 0 })).toMatchObject([
    422,
    'invalid_input',
    expect.stringContaining('empty file'),
  ]);
  expect(await refused({ sha256: 'ABC' })).toMatchObject([
    422,
    'invalid_input',
    expect.stringContaining('SHA-256'),
  ]);
});

test('an id belongs to one file of one person', async () => {
  const bytes = randomBytes(500);
  const { id } = await announce(bytes);
  expect((await announce(randomBytes(500), { upload_id: id })).reply.json()).toMatchObject({
    code: 'id_reused',
  });
  const office = await web.signIn(business.emailOf('office'), business.password);
  expect((await read(id, office)).statusCode).toBe(404);
  expect((await announce(bytes, { upload_id: id }, office)).reply.json()).toMatchObject({
    code: 'id_reused',
  });
  const contact = await web.signIn(installer.emailOf('approver'), business.password);
  expect((await announce(bytes, {}, contact)).reply.statusCode).toBe(403);
});

test('an upload becomes one photo, and only when it is all there', async () => {
  const work = await writtenUpLine(installer);
  const bytes = await aJpeg();
  const { id } = await announce(bytes);
  await sendPart(id, 0, bytes.subarray(0, 100));
  expect((await addFrom(id, work)).reply.json()).toMatchObject({ code: 'upload_unfinished' });
  await sendPart(id, 100, bytes.subarray(100));
  const photoId = world.newId<PhotoId>();
  const twice = await Promise.all([1, 2].map(() => addFrom(id, work, { photo_id: photoId })));
  for (const { reply } of twice) expect([201, 503]).toContain(reply.statusCode);
  expect((await addFrom(id, work, { photo_id: photoId })).reply.statusCode).toBe(201);
  expect((await addFrom(id, work)).reply.json()).toMatchObject({ code: 'id_reused' });
  expect(await photosOf(work)).toHaveLength(1);
});

test('parts that do not make up what was announced are forgotten, and it begins anew', async () => {
  const work = await writtenUpLine(installer);
  const bytes = await aJpeg();
  const { id } = await announce(bytes);
  const wrong = Buffer.from(bytes);
  wrong[200] = (wrong[200] ?? 0) ^ 1;
  await sendPart(id, 0, wrong);
  expect((await addFrom(id, work)).reply.json()).toMatchObject({ code: 'upload_digest' });
  expect((await read(id)).json()).toMatchObject({ offset: 0, complete: false });
  await sendPart(id, 0, bytes);
  expect((await addFrom(id, work)).reply.statusCode).toBe(201);
  const lost = await uploaded(await aJpeg());
  for await (const { key } of world.objects.list(business.tenantId))
    if (key.includes(lost)) await world.objects.remove(key);
  expect((await addFrom(lost, work)).reply.json()).toMatchObject({ code: 'upload_digest' });
  expect((await read(lost)).json()).toMatchObject({ offset: 0 });
});

test('a photo taken instead of another names it, on the same work order', async () => {
  const work = await writtenUpLine(installer);
  const other = await writtenUpLine(installer);
  const { payload: first } = await addFrom(await uploaded(await aJpeg()), work);
  const { reply } = await addFrom(await uploaded(await aJpeg()), work, { retake_of: first.photo_id });
  expect(reply.statusCode).toBe(201);
  const elsewhere = await addFrom(await uploaded(await aJpeg()), other, { retake_of: first.photo_id });
  expect(elsewhere.reply.json()).toMatchObject({ code: 'invalid_input', field: 'retake_of' });
  expect(await photosOf(work)).toHaveLength(2);
});

test('nobody leaves more unfinished than one phone keeps in a day', async () => {
  const person = await web.signIn(business.emailOf('owner'), business.password);
  const bytes = randomBytes(10);
  const large = { bytes: 250_000_000, media_type: 'video/webm' };
  for (let count = 0; count < 4; count += 1)
    expect((await announce(bytes, large, person)).reply.statusCode).toBe(201);
  const fifth = await announce(bytes, { ...large, bytes: 1_000_000 }, person);
  expect([fifth.reply.statusCode, fifth.reply.json()]).toMatchObject([429, { code: 'too_many_uploads' }]);
});
