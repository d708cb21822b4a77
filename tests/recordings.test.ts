import { createHash } from 'node:crypto';
import { Readable } from 'node:stream';
import type { RecordingId } from '@grainwright/domain';
import { addRecording, listPhotosToTake, type PhotosToTake } from '@grainwright/operations';
import { beforeAll, expect, test } from 'vitest';
import { multipart } from './support/multipart.ts';
import { openWeb, type Web } from './support/web.ts';
import { aJpeg, type WorkInHand, writtenUpLine } from './support/work-in-hand.ts';
import {
  type Account,
  aBusiness,
  anAccount,
  type Business,
  must,
  openWorld,
  type World,
} from './support/world.ts';

let world: World;
let business: Business;
let driver: Account;
let web: Web;
let token: { authorization: string };
let approver: { authorization: string };

beforeAll(async () => {
  world = await openWorld();
  business = await aBusiness(world);
  driver = await anAccount(business, { limit: null, photoRule: 'retail' });
  web = await openWeb(world);
  token = await web.signIn(business.emailOf('technician'), business.password);
  approver = await web.signIn(driver.emailOf('approver'), business.password);
});

/** Boxes by hand after ISO/IEC 14496-12 §4.2: enough to be told as a film, with a place in it where asked. */
function film(place: string, seed: number): Buffer {
  const box = (type: string, content: Buffer) => {
    const head = Buffer.alloc(8);
    head.writeUInt32BE(content.length + 8);
    head.write(type, 4, 'latin1');
    return Buffer.concat([head, content]);
  };
  const brand = box('ftyp', Buffer.from('isom\0\0\0\0isom', 'latin1'));
  const moov = box('moov', box('udta', Buffer.from(place, 'latin1')));
  return Buffer.concat([brand, moov, box('mdat', Buffer.alloc(40_000, seed))]);
}

const hexOf = (bytes: Buffer) => createHash('sha256').update(bytes).digest('hex');

async function uploaded(bytes: Buffer): Promise<string> {
  const upload_id = world.newId();
  const announced = { upload_id, bytes: bytes.length, sha256: hexOf(bytes), media_type: 'video/mp4' };
  await web.app.inject({ method: 'POST', url: '/api/v1/uploads', headers: token, payload: announced });
  const headers = {
    ...token,
    'content-type': 'application/octet-stream',
    'upload-offset': '0',
    'content-digest': `sha-256=:${createHash('sha256').update(bytes).digest('base64')}:`,
  };
  const sent = await web.app.inject({
    method: 'PATCH',
    url: `/api/v1/uploads/${upload_id}`,
    headers,
    payload: bytes,
  });
  expect(sent.json()).toMatchObject({ complete: true });
  return upload_id;
}

function fromUpload({ workOrderId }: WorkInHand, payload: object) {
  const url = `/api/v1/work-orders/${workOrderId}/recordings/from-upload`;
  return web.app.inject({ method: 'POST', url, headers: token, payload });
}

const photosOf = async ({ workOrderId }: WorkInHand): Promise<PhotosToTake> =>
  must(await listPhotosToTake(world.services, business.technician, workOrderId));

const get = (url: string, headers: Record<string, string>) => web.app.inject({ method: 'GET', url, headers });

test('a recording sent in parts is kept once, with its poster, and is the walk-around that retail asks for', async () => {
  const work = await writtenUpLine(driver);
  expect((await photosOf(work)).needed.map(({ purposes }) => purposes)).toContainEqual(['walk_around']);
  const bytes = film('', 1);
  const payload = {
    recording_id: world.newId(),
    upload_id: await uploaded(bytes),
    captured_at: '2026-08-05T08:58:00-05:00',
    seconds: 95,
    poster: (await aJpeg()).toString('base64'),
  };
  const first = await fromUpload(work, payload);
  expect(first.statusCode).toBe(201);
  expect(first.json()).toEqual({ id: payload.recording_id, sha256: hexOf(bytes), names_place: false });
  expect((await fromUpload(work, payload)).json()).toEqual(first.json());
  const photos = await photosOf(work);
  expect(photos.recordings).toMatchObject([{ seconds: 95, hasPoster: true, mediaType: 'video/mp4' }]);
  expect(photos.needed.map(({ purposes }) => purposes)).not.toContainEqual(['walk_around']);
  const other = await fromUpload(work, { ...payload, upload_id: await uploaded(film('', 2)) });
  expect([other.statusCode, other.json().code]).toEqual([409, 'id_reused']);
});

test('a player gets the bytes that it asks for, and is told what they are', async () => {
  const work = await writtenUpLine(driver);
  const bytes = film('', 3);
  const { id } = (
    await fromUpload(work, { recording_id: world.newId(), upload_id: await uploaded(bytes) })
  ).json();
  const url = `/api/v1/recordings/${id}/film`;
  const whole = await get(url, approver);
  expect([whole.statusCode, whole.rawPayload.equals(bytes)]).toEqual([200, true]);
  expect(whole.headers).toMatchObject({
    'content-type': 'video/mp4',
    'accept-ranges': 'bytes',
    'x-content-type-options': 'nosniff',
    'content-security-policy': "default-src 'none'; sandbox",
  });
  const part = await get(url, { ...approver, range: 'bytes=100-199' });
  expect([part.statusCode, part.headers['content-range']]).toEqual([206, `bytes 100-199/${bytes.length}`]);
  expect(part.rawPayload.equals(bytes.subarray(100, 200))).toBe(true);
  const beyond = await get(url, { ...approver, range: `bytes=${bytes.length}-` });
  expect([beyond.statusCode, beyond.headers['content-range']]).toEqual([416, `bytes */${bytes.length}`]);
  const changed = await get(url, { ...approver, range: 'bytes=0-9', 'if-range': '"another"' });
  expect(changed.statusCode).toBe(200);
  expect((await get(`/api/v1/recordings/${id}/poster`, approver)).statusCode).toBe(404);
});

test('one that says where it was made stays with the staff: the account gets its picture and digest', async () => {
  const work = await writtenUpLine(driver);
  const bytes = film('\xa9xyz+41.5083-081.2500/', 4);
  const poster = (await aJpeg()).toString('base64');
  const body = { recording_id: world.newId(), upload_id: await uploaded(bytes), poster };
  const { id, names_place } = (await fromUpload(work, body)).json();
  expect(names_place).toBe(true);
  const asked = await Promise.all(
    [`/api/v1/recordings/${id}/film`, `/api/v1/recordings/${id}/poster`].flatMap((url) => [
      get(url, token),
      get(url, approver),
    ]),
  );
  expect(asked.map(({ statusCode }) => statusCode)).toEqual([200, 404, 200, 200]);
  const page = await web.signInByPage(driver.emailOf('approver'), business.password);
  const shown = (await page.get(`/account/work-orders/${work.workOrderId}`)).body;
  expect(shown).toContain(hexOf(bytes));
  expect(shown).not.toContain(`/recordings/${id}/film`);
  const stranger = await anAccount(business);
  const other = await web.signIn(stranger.emailOf('approver'), business.password);
  expect((await get(`/api/v1/recordings/${id}/poster`, other)).statusCode).toBe(404);
});

test('what is no recording is refused and leaves nothing; a poster that can’t be read is left out', async () => {
  const work = await writtenUpLine(driver);
  const page = await uploaded(Buffer.from('<!doctype html><script>alert(1)</script>'));
  const refused = await fromUpload(work, { recording_id: world.newId(), upload_id: page });
  expect([refused.statusCode, refused.json().code]).toEqual([415, 'recording_unreadable']);
  expect((await photosOf(work)).recordings).toEqual([]);
  const poster = Buffer.from('no picture').toString('base64');
  const kept = await fromUpload(work, {
    recording_id: world.newId(),
    upload_id: await uploaded(film('', 5)),
    poster,
  });
  expect(kept.statusCode).toBe(201);
  expect((await photosOf(work)).recordings).toMatchObject([{ hasPoster: false }]);
});

test('without JavaScript a recording of the phone’s camera goes up with the form', async () => {
  const work = await writtenUpLine(driver);
  const technician = await web.signInByPage(business.emailOf('technician'), business.password);
  const url = `/field/work-orders/${work.workOrderId}/walk-around`;
  const send = (bytes: Buffer) => {
    const { payload, headers } = multipart(
      { _csrf: technician.token, recording_id: world.newId() },
      { name: 'walk.mp4', bytes },
    );
    return web.app.inject({ method: 'POST', url, headers, cookies: { ...technician.cookies }, payload });
  };
  const refused = await send(await aJpeg());
  expect(refused.statusCode).toBe(415);
  expect(refused.body).toMatch(/id="field-recording-error">[^<]*This is no video that can be kept/);
  expect((await send(film('', 6))).statusCode).toBe(303);
  expect((await technician.get(`${url}?kept=yes`)).body).toContain('The recording is kept');
  const [recording] = (await photosOf(work)).recordings;
  const order = await technician.get(`/field/work-orders/${work.workOrderId}`);
  expect(order.body).toContain(`src="/recordings/${recording?.id}/film"`);
});

test('a recording above the cap is refused', async () => {
  const work = await writtenUpLine(driver);
  const refused = await addRecording(world.services, business.technician, {
    recordingId: world.newId<RecordingId>(),
    workOrderId: work.workOrderId,
    capturedAt: null,
    seconds: null,
    poster: null,
    film: { stream: Readable.from([film('', 7)]), truncated: () => false, bytesMax: 10_000 },
    directory: world.objects.temporaryDirectory,
  });
  expect(refused).toMatchObject({ ok: false, problem: { code: 'recording_too_large' } });
});
