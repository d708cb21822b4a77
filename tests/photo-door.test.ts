import { createHash } from 'node:crypto';
import { once } from 'node:events';
import { watch } from 'node:fs';
import { readdir } from 'node:fs/promises';
import { request } from 'node:http';
import { connect } from 'node:net';
import { pipeline } from 'node:stream/promises';
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import type { PhotoId } from '@grainwright/domain';
import { listPhotosToTake, makePhotoDerivatives } from '@grainwright/operations';
import piexif from 'piexif-ts';
import sharp from 'sharp';
import { beforeAll, expect, test } from 'vitest';
import { pngClaiming, sample } from '../packages/evidence/src/photo/photo-fixtures.ts';
import { multipart } from './support/multipart.ts';
import { openWeb, type Web } from './support/web.ts';
import { aJpeg, asAdministrator, type WorkInHand, writtenUpLine } from './support/work-in-hand.ts';
import { aBusiness, anAccount, type Business, must, openWorld, type World } from './support/world.ts';

/** Everything that is sent as a photo, through both doors: one request, and parts. */

let world: World;
let business: Business;
let work: WorkInHand;
let web: Web;
let address: URL;
let token: { authorization: string };

beforeAll(async () => {
  world = await openWorld();
  business = await aBusiness(world);
  work = await writtenUpLine(await anAccount(business));
  web = await openWeb(world);
  address = new URL(await web.listen());
  token = await web.signIn(business.emailOf('technician'), business.password);
});

interface Told {
  readonly status: number;
  readonly code: string;
  readonly detail: string;
}

async function whole(bytes: Buffer, photoId: string = world.newId(), name = 'photo.jpg'): Promise<Told> {
  const fields = { photo_id: photoId, line_id: work.lineId, purpose: 'before' };
  const { payload, headers } = multipart(fields, { name, bytes });
  const url = `/api/v1/work-orders/${work.workOrderId}/photos`;
  const reply = await web.app.inject({ method: 'POST', url, headers: { ...headers, ...token }, payload });
  return { status: reply.statusCode, ...reply.json<{ code: string; detail: string }>() };
}

async function inParts(bytes: Buffer, photoId: string = world.newId()): Promise<Told> {
  const ask = async (method: 'POST' | 'PATCH', url: string, more: object): Promise<Told> => {
    const reply = await web.app.inject({ method, url: `/api/v1${url}`, headers: token, ...more });
    return { status: reply.statusCode, ...reply.json<{ code: string; detail: string }>() };
  };
  const digest = createHash('sha256').update(bytes);
  const upload_id = world.newId();
  const announced = {
    upload_id,
    bytes: bytes.length,
    sha256: digest.copy().digest('hex'),
    media_type: 'image/jpeg',
  };
  const begun = await ask('POST', '/uploads', { payload: announced });
  if (begun.status !== 201) return begun;
  const headers = {
    ...token,
    'content-type': 'application/octet-stream',
    'upload-offset': '0',
    'content-digest': `sha-256=:${digest.digest('base64')}:`,
  };
  const sent = await ask('PATCH', `/uploads/${upload_id}`, { headers, payload: bytes });
  if (sent.status !== 200) return sent;
  const payload = { photo_id: photoId, upload_id, purpose: 'before', line_id: work.lineId };
  return ask('POST', `/work-orders/${work.workOrderId}/photos/from-upload`, { payload });
}

/** Everything that is stored but parts, which stay until nobody goes on with them. */
async function stored(): Promise<readonly string[]> {
  const found: string[] = [];
  for await (const { key } of world.objects.list(business.tenantId))
    if (!key.includes('/part/')) found.push(key);
  return found.toSorted();
}

const temporaryFiles = () => readdir(world.objects.temporaryDirectory);
const photoCount = async () =>
  must(await listPhotosToTake(world.services, business.technician, work.workOrderId)).photos.length;

async function animated(): Promise<Buffer> {
  const frame = await sample({ width: 40, height: 30 }).raw().toBuffer();
  const frames = Buffer.concat([frame, Buffer.from(frame).fill(90)]);
  return sharp(frames, { raw: { width: 40, height: 60, channels: 3, pageHeight: 30 } })
    .webp({ loop: 0, delay: [100, 100] })
    .toBuffer();
}

const bad: readonly (readonly [
  name: string,
  status: number,
  code: string,
  says: string,
  bytes: () => Promise<Buffer> | Buffer,
])[] = [
  [
    'a JPEG that ends early',
    422,
    'photo_unreadable',
    'ends early',
    async () => (await aJpeg()).subarray(0, 900),
  ],
  [
    'a PNG that claims 60,000 by 60,000 pixels',
    422,
    'photo_too_many_pixels',
    '60000 × 60000',
    () => pngClaiming(60_000, 60_000),
  ],
  [
    'a page with a photo in it',
    415,
    'photo_not_an_image',
    'a web page',
    async () => Buffer.concat([Buffer.from('<html><script>alert(1)</script>'), await aJpeg()]),
  ],
  [
    'a GIF that is a script',
    415,
    'photo_not_an_image',
    'a GIF',
    () => Buffer.from('GIF89a/*\0\0*/=1;alert(1)//'),
  ],
  [
    'an SVG',
    415,
    'photo_not_an_image',
    'an SVG drawing',
    () => Buffer.from('<svg xmlns="http://www.w3.org/2000/svg" onload="alert(1)"/>'),
  ],
  [
    'a HEIC',
    415,
    'photo_not_an_image',
    'Most Compatible',
    () => Buffer.from('\0\0\0\x18ftypheic\0\0\0\0mif1heic', 'latin1'),
  ],
  ['a moving picture', 415, 'photo_not_an_image', 'a moving picture', animated],
  [
    'a video',
    415,
    'photo_not_an_image',
    'a video',
    () => Buffer.from('\0\0\0\x18ftypmp42\0\0\0\0isom', 'latin1'),
  ],
];

test.each(bad)(
  '%s is refused by both doors with what to do, and leaves nothing',
  async (_name, status, code, says, make) => {
    const bytes = await make();
    const before = await stored();
    for (const send of [whole, inParts])
      expect(await send(bytes)).toMatchObject({ status, code, detail: expect.stringContaining(says) });
    expect(await stored()).toEqual(before);
    expect([await temporaryFiles(), await photoCount()]).toEqual([[], 0]);
  },
);

test('nothing at all is no photo', async () => {
  expect(await whole(Buffer.alloc(0))).toMatchObject({ status: 415, code: 'photo_not_an_image' });
  expect(await inParts(Buffer.alloc(0))).toMatchObject({ status: 422, code: 'invalid_input' });
  expect(await temporaryFiles()).toEqual([]);
});

test('a connection that dies at 99 % leaves no file', async () => {
  const photo = await aJpeg();
  const fields = { photo_id: world.newId(), line_id: work.lineId, purpose: 'before' };
  const form = multipart(fields, { name: 'photo.jpg', bytes: photo });
  const path = `/api/v1/work-orders/${work.workOrderId}/photos`;
  const uploadId = world.newId();
  const announced = {
    upload_id: uploadId,
    bytes: photo.length,
    sha256: 'a'.repeat(64),
    media_type: 'image/jpeg',
  };
  await web.app.inject({ method: 'POST', url: '/api/v1/uploads', headers: token, payload: announced });
  const partHeaders = {
    'content-type': 'application/octet-stream',
    'upload-offset': '0',
    'content-digest': `sha-256=:${createHash('sha256').update(photo).digest('base64')}:`,
  };
  for (const [method, where, headers, payload] of [
    ['POST', path, form.headers, form.payload],
    ['PATCH', `/api/v1/uploads/${uploadId}`, partHeaders, photo],
  ] as const) {
    const socket = connect(Number(address.port), address.hostname);
    await once(socket, 'connect');
    const arrived = whenFiles((names) => names.length === 1);
    socket.write(headOf(method, where, { ...headers, 'content-length': String(payload.length) }));
    socket.write(payload.subarray(0, Math.floor(payload.length * 0.99)));
    await arrived;
    const gone = whenFiles((names) => names.length === 0);
    socket.destroy();
    await gone;
  }
  const { offset } = (
    await web.app.inject({ method: 'GET', url: `/api/v1/uploads/${uploadId}`, headers: token })
  ).json<{ offset: number }>();
  expect([offset, await photoCount()]).toEqual([0, 0]);
});

function headOf(method: string, path: string, headers: Readonly<Record<string, string>>): string {
  const lines = Object.entries({ host: address.host, ...token, ...headers }).map((pair) => pair.join(': '));
  return `${method} ${path} HTTP/1.1\r\n${lines.join('\r\n')}\r\n\r\n`;
}

/** Resolves when the folder for what is coming in looks like that. */
function whenFiles(wanted: (names: readonly string[]) => boolean): Promise<void> {
  const { promise, resolve } = Promise.withResolvers<void>();
  const look = async () => {
    if (!wanted(await temporaryFiles())) return;
    watcher.close();
    resolve();
  };
  const watcher = watch(world.objects.temporaryDirectory, look);
  void look();
  return promise;
}

test('one that goes on sending single bytes is cut off, however busy it is', async () => {
  const short = await openWeb(world, { requestMillisecondsMax: 300 });
  const { port, hostname } = new URL(await short.listen());
  const socket = connect(Number(port), hostname);
  let answer = '';
  socket.on('data', (chunk: Buffer) => {
    answer += chunk.toString();
  });
  socket.on('error', () => undefined);
  // What is sent into a connection that is cut off may come back as an error of it.
  const closed = new Promise((resolve) => socket.once('close', resolve));
  const { payload, headers } = multipart(
    { photo_id: world.newId(), line_id: work.lineId, purpose: 'before' },
    { name: 'photo.jpg', bytes: await aJpeg() },
  );
  const path = `/api/v1/work-orders/${work.workOrderId}/photos`;
  socket.write(headOf('POST', path, { ...headers, 'content-length': '900000000' }));
  socket.write(payload.subarray(0, 600));
  const dribble = () => {
    if (!socket.destroyed && socket.writable) socket.write('.', () => setImmediate(dribble));
  };
  dribble();
  await closed;
  expect(answer).toMatch(/^(HTTP\/1\.1 408 |$)/);
  await whenFiles((names) => names.length === 0);
});

test('200 MB go past without being kept or held', async () => {
  const fields = { photo_id: world.newId(), line_id: work.lineId, purpose: 'before' };
  const { payload, headers } = multipart(fields, {
    name: 'photo.jpg',
    bytes: Buffer.from('\xff\xd8\xff', 'latin1'),
  });
  const path = `/api/v1/work-orders/${work.workOrderId}/photos`;
  const asking = request(new URL(path, address), { method: 'POST', headers: { ...headers, ...token } });
  const answered = once(asking, 'response');
  const head = payload.indexOf('\xff\xd8\xff', 0, 'latin1') + 3;
  const chunk = Buffer.alloc(1_000_000, 7);
  const before = bytesInUse();
  let held = 0;
  await pipeline(async function* () {
    yield payload.subarray(0, head);
    for (let megabyte = 0; megabyte < 200; megabyte += 1) {
      if (megabyte % 20 === 19) held = Math.max(held, bytesInUse() - before);
      yield chunk;
    }
    yield payload.subarray(head);
  }, asking);
  const [response] = await answered;
  response.resume();
  expect(response.statusCode).toBe(413);
  expect(held).toBeLessThan(60_000_000);
  expect(await temporaryFiles()).toEqual([]);
});

/** Bytes of the buffers that something still holds: what is only waiting to be collected is collected first. */
function bytesInUse(): number {
  setFlagsFromString('--expose-gc');
  (runInNewContext('gc') as () => void)();
  return process.memoryUsage().arrayBuffers;
}

test('a photo with a page in a comment and behind its end is kept as it came and shown as nothing but a picture', async () => {
  const photo = await aJpeg();
  const script = '<script>alert(1)</script>';
  const comment = Buffer.from(`\xff\xfe\0${String.fromCharCode(script.length + 2)}${script}`, 'latin1');
  const polyglot = Buffer.concat([
    photo.subarray(0, 2),
    comment,
    photo.subarray(2),
    Buffer.from(`<html>${script}`),
  ]);
  const photoId = world.newId<PhotoId>();
  expect(await whole(polyglot, photoId, 'photo.html')).toMatchObject({ status: 201 });
  const { tenantId } = business;
  const directory = world.objects.temporaryDirectory;
  must(await makePhotoDerivatives(world.services, { tenantId, photoId, directory }));
  const read = (kind: string) =>
    web.app.inject({ method: 'GET', url: `/api/v1/photos/${photoId}/${kind}`, headers: token });
  const original = await read('original');
  expect(original.rawPayload).toEqual(polyglot);
  expect(original.headers).toMatchObject({
    'content-type': 'image/jpeg',
    'x-content-type-options': 'nosniff',
    'content-disposition': `inline; filename="${photoId}-original.jpg"`,
  });
  expect((await read('view')).rawPayload.toString('latin1')).not.toContain('script');
});

test('what a photo is, its bytes say, not its name; and what a camera wrote is words', async () => {
  const photoId = world.newId<PhotoId>();
  const png = await sample({ width: 700, height: 500 }).png().toBuffer();
  expect(await whole(png, photoId, 'photo.exe')).toMatchObject({ status: 201 });
  const back = await web.app.inject({
    method: 'GET',
    url: `/api/v1/photos/${photoId}/original`,
    headers: token,
  });
  expect(back.headers['content-type']).toBe('image/png');
  const script = '<script>alert("x")</script>';
  const plain = (
    await sharp(await sample({ width: 701, height: 500 }).png().toBuffer())
      .jpeg()
      .toBuffer()
  ).toString('latin1');
  const written = piexif.insert(piexif.dump({ '0th': { 271: script, 305: script.repeat(400) } }), plain);
  const told = world.newId<PhotoId>();
  expect(await inParts(Buffer.from(written, 'latin1'), told)).toMatchObject({ status: 201 });
  const facts = await web.app.inject({ method: 'GET', url: `/api/v1/photos/${told}`, headers: token });
  expect(facts.json()).toMatchObject({
    id: told,
    media_type: 'image/jpeg',
    bare_sha256: expect.stringMatching(/^[0-9a-f]{64}$/),
    exif: { Make: script, Software: script.repeat(400).slice(0, 200) },
  });
});

test('a photo in the colors of print is kept as it came; its copies are for screens', async () => {
  const cmyk = await sharp(await sample({ width: 800, height: 600 }).png().toBuffer())
    .toColourspace('cmyk')
    .jpeg()
    .toBuffer();
  expect((await sharp(cmyk).metadata()).space).toBe('cmyk');
  const photoId = world.newId<PhotoId>();
  expect(await whole(cmyk, photoId)).toMatchObject({ status: 201 });
  const { tenantId } = business;
  must(
    await makePhotoDerivatives(world.services, {
      tenantId,
      photoId,
      directory: world.objects.temporaryDirectory,
    }),
  );
  const read = async (kind: string) =>
    (await web.app.inject({ method: 'GET', url: `/api/v1/photos/${photoId}/${kind}`, headers: token }))
      .rawPayload;
  expect(await read('original')).toEqual(cmyk);
  const view = sharp(await read('view'));
  expect(await view.metadata()).toMatchObject({ space: 'srgb', channels: 3 });
  // The sample's upper left quarter is red.
  const [red = 0, green = 255] = await view
    .extract({ left: 100, top: 100, width: 1, height: 1 })
    .raw()
    .toBuffer();
  expect([red > 150, green < 110]).toEqual([true, true]);
});

test('the same bytes twice at once are two photos and one object', async () => {
  const bytes = await sample({ width: 702, height: 500 }).jpeg().toBuffer();
  const sha256 = createHash('sha256').update(bytes).digest('hex');
  const ids = [world.newId(), world.newId(), world.newId()] as const;
  const sent = await Promise.all([whole(bytes, ids[0]), whole(bytes, ids[1]), inParts(bytes, ids[2])]);
  expect(sent.map(({ status }) => status)).toEqual([201, 201, 201]);
  const rows = await asAdministrator(world, (sql) => sql`select id from photos where sha256 = ${sha256}`);
  expect(rows.map(({ id }) => id).toSorted()).toEqual([...ids].toSorted());
  expect((await stored()).filter((key) => key.endsWith(sha256) && key.includes('/original/'))).toHaveLength(
    1,
  );
});
