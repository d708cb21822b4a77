import { createHash } from 'node:crypto';
import { readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { Readable } from 'node:stream';
import type { PhotoId, WorkOrderId } from '@grainwright/domain';
import { addPhoto, listPhotosToTake, makePhotoDerivatives, openPhoto } from '@grainwright/operations';
import type postgres from 'postgres';
import { beforeAll, expect, test } from 'vitest';
import { cameraExif, pngClaiming, sample } from '../packages/evidence/src/photo/photo-fixtures.ts';
import {
  aJpeg,
  approvedLine,
  asAdministrator,
  photoInput,
  startedLine,
  type WorkInHand,
  writtenUpLine,
} from './support/work-in-hand.ts';
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
/** Trade: before, a proof and after; the vehicle's owner signs. */
let installer: Account;

beforeAll(async () => {
  world = await openWorld();
  business = await aBusiness(world);
  installer = await anAccount(business, { limit: null });
});

const refusal = (code: string) => ({ ok: false, problem: { code } });

async function add(bytes: Buffer, work: WorkInHand, change: Partial<Parameters<typeof addPhoto>[2]> = {}) {
  const input = photoInput(installer, bytes, { ...work, purpose: 'progress' });
  return addPhoto(world.services, business.technician, { ...input, ...change });
}

function admin<Row>(query: (sql: postgres.Sql) => Promise<Iterable<Row>>): Promise<readonly Row[]> {
  return asAdministrator(world, query);
}

async function makeCopies(photoId: PhotoId) {
  const { tenantId } = business;
  return must(
    await makePhotoDerivatives(world.services, {
      tenantId,
      photoId,
      directory: world.objects.temporaryDirectory,
    }),
  );
}

async function contentOf(actor: Business['owner'], photoId: PhotoId, kind: 'original' | 'view' | 'thumb') {
  const opened = must(await openPhoto(world.services, actor, { photoId, kind }));
  if (opened.stream === null) throw new Error('no content');
  return Buffer.concat(await opened.stream.toArray());
}

async function temporaryFiles(): Promise<readonly string[]> {
  return readdir(world.objects.temporaryDirectory);
}

async function photoCount(workOrderId: WorkOrderId): Promise<number> {
  return must(await listPhotosToTake(world.services, business.technician, workOrderId)).photos.length;
}

test('what is no readable photo is refused, and leaves neither a row nor a file', async () => {
  const work = await writtenUpLine(installer);
  const whole = await sample({ width: 900, height: 700 }).jpeg().toBuffer();
  const cases: readonly [Buffer, string][] = [
    [whole.subarray(0, whole.length / 2), 'photo_unreadable'],
    [Buffer.from('this was named photo.jpg'), 'photo_not_an_image'],
    [pngClaiming(20_000, 15_000), 'photo_too_many_pixels'],
  ];
  for (const [bytes, code] of cases) {
    const sha256 = createHash('sha256').update(bytes).digest('hex');
    expect(await add(bytes, work)).toMatchObject(refusal(code));
    const left = await readdir(join(world.objects.temporaryDirectory, '..'), { recursive: true });
    expect(left.filter((name) => name.includes(sha256))).toEqual([]);
  }
  expect(await photoCount(work.workOrderId)).toBe(0);
  expect(await temporaryFiles()).toEqual([]);
});

test('a photo above the cap is refused whether it is counted here or cut off by the parser', async () => {
  const work = await writtenUpLine(installer);
  const bytes = await aJpeg();
  expect(await add(bytes, work, { bytesMax: bytes.length - 1 })).toMatchObject(refusal('photo_too_large'));
  expect(await add(bytes, work, { truncated: () => true })).toMatchObject(refusal('photo_too_large'));
  expect(await add(bytes, work, { bytesMax: bytes.length })).toMatchObject({ ok: true });
  expect(await temporaryFiles()).toEqual([]);
});

test('an upload that breaks off leaves nothing', async () => {
  const work = await writtenUpLine(installer);
  const breaking = Readable.from(
    (async function* () {
      yield Buffer.alloc(1000);
      throw new Error('the phone lost its signal');
    })(),
  );
  await expect(add(Buffer.alloc(0), work, { stream: breaking })).rejects.toThrow('lost its signal');
  expect(await temporaryFiles()).toEqual([]);
  expect(await photoCount(work.workOrderId)).toBe(0);
});

test('the same photo under the same id is kept once; other bytes under it are refused', async () => {
  const work = await writtenUpLine(installer);
  const bytes = await aJpeg();
  const photoId = world.newId<PhotoId>();
  const first = await add(bytes, work, { photoId });
  expect(await add(bytes, work, { photoId })).toEqual(first);
  expect(await add(await aJpeg(), work, { photoId })).toMatchObject(refusal('id_reused'));
  expect(await add(bytes, work, { photoId, purpose: 'after' })).toMatchObject(refusal('id_reused'));
  const [one, two] = await Promise.all([1, 2].map(() => add(bytes, work, { photoId })));
  expect([one, two]).toEqual([first, first]);
  expect(await photoCount(work.workOrderId)).toBe(1);
});

test('the same picture under another id is kept, and the technician is told', async () => {
  const work = await writtenUpLine(installer);
  const bytes = await aJpeg();
  expect(must(await add(bytes, work)).warnings).toEqual([]);
  const again = must(await add(bytes, work, { purpose: 'ruler' }));
  expect(again.warnings).toEqual([
    { code: 'same_picture', sentence: expect.stringContaining('already kept here as “progress”') },
  ]);
  expect(await photoCount(work.workOrderId)).toBe(2);
});

test('a picture after the repair is taken once work has started, not before', async () => {
  for (const work of [await writtenUpLine(installer), await approvedLine(installer)]) {
    const early = await add(await aJpeg(), work, { purpose: 'after' });
    expect(early).toMatchObject({ ok: false, problem: { code: 'wrong_state', field: 'purpose' } });
    expect(early).toMatchObject({ problem: { detail: expect.stringContaining('Start the work first') } });
  }
  const started = await startedLine(installer);
  expect(must(await add(await aJpeg(), started, { purpose: 'after' })).purpose).toBe('after');
});

test('a photo goes to a line of its own work order, in its own business, before acceptance', async () => {
  const work = await writtenUpLine(installer);
  const other = await writtenUpLine(installer);
  const elsewhere = await aBusiness(world);
  expect(await add(await aJpeg(), { ...work, lineId: other.lineId })).toMatchObject(refusal('invalid_input'));
  expect(await add(await aJpeg(), work, { purpose: 'portrait' })).toMatchObject(refusal('invalid_input'));
  const input = photoInput(installer, await aJpeg(), { ...work, purpose: 'before' });
  expect(await addPhoto(world.services, elsewhere.owner, input)).toMatchObject(refusal('not_found'));
  expect(await addPhoto(world.services, installer.approver, input)).toMatchObject(refusal('not_allowed'));
});

// Exif 2.32 §4.6.4, orientation 6: the stored top row is the right side as seen.
test('copies are upright and carry no position; the place of the original stays with the staff', async () => {
  const work = await writtenUpLine(installer);
  const taken = await sample({ width: 800, height: 600, orientation: 6, exif: cameraExif }).jpeg().toBuffer();
  const { photoId } = must(await add(taken, work, { purpose: 'before' }));
  const [row] = await admin(
    (sql) => sql`select latitude, taken_at_local, width, height from photos where id = ${photoId}`,
  );
  expect(row).toMatchObject({ taken_at_local: '2026-08-05T14:03:09', width: 600, height: 800 });
  expect(Number(row?.latitude)).toBeCloseTo(41.508333, 5);
  expect(await openPhoto(world.services, installer.viewer, { photoId, kind: 'view' })).toMatchObject(
    refusal('unavailable'),
  );
  expect(await makeCopies(photoId)).toBe('made');
  expect(await makeCopies(photoId)).toBe('already there');
  const [copies] = await admin(
    (sql) =>
      sql`select min(width) as width, min(height) as height from photo_derivatives where photo_id = ${photoId} and kind = 'view'`,
  );
  expect(copies).toEqual({ width: 600, height: 800 });
  for (const kind of ['view', 'thumb'] as const) {
    const text = (await contentOf(installer.viewer, photoId, kind)).toString('latin1');
    expect(text).not.toMatch(/Exif|GPS|Example Phone/);
  }
  expect(await contentOf(business.technician, photoId, 'original')).toEqual(taken);
  expect(await openPhoto(world.services, installer.approver, { photoId, kind: 'original' })).toMatchObject(
    refusal('not_found'),
  );
  const stranger = await anAccount(business);
  expect(await openPhoto(world.services, stranger.approver, { photoId, kind: 'view' })).toMatchObject(
    refusal('not_found'),
  );
  expect(await temporaryFiles()).toEqual([]);
});

test('a photo that the reader holds already is not read again', async () => {
  const work = await writtenUpLine(installer);
  const { photoId, sha256 } = must(await add(await aJpeg(), work));
  const asked = { photoId, kind: 'original', heldDigest: sha256 } as const;
  expect(must(await openPhoto(world.services, business.office, asked)).stream).toBeNull();
});

test('the database gives an account no position and a vehicle’s owner no price', async () => {
  const { tenantId } = business;
  const { workOrderId } = await startedLine(installer);
  const columns: readonly [string, string][] = [
    ['account', 'select latitude from photos'],
    ['account', 'select storage_key from photos'],
    ['vehicle_owner', 'select latitude from photos'],
    ['account', 'select taken_from_id from replacement_quotes'],
    ['vehicle_owner', 'select amount_minor from replacement_quotes'],
    ['vehicle_owner', 'select by_hand_minor from work_order_lines'],
    ['vehicle_owner', 'select total_minor from decisions'],
    ['vehicle_owner', 'select net_minor from decision_lines'],
    ['vehicle_owner', 'select total_minor from estimate_versions'],
    ['vehicle_owner', 'select net_minor from estimate_lines'],
    ['vehicle_owner', 'select list_minor from rates'],
    ['vehicle_owner', 'select total_minor from invoices'],
  ];
  for (const [role, query] of columns) {
    const asked = admin(async (sql) =>
      sql.begin(async (tx) => {
        await tx`select set_config('app.tenant_id', ${tenantId}, true), set_config('app.account_id', ${installer.id}, true),
          set_config('app.work_order_id', ${workOrderId}, true), set_config('role', ${`grainwright_${role}`}, true)`;
        return tx.unsafe(query);
      }),
    );
    await expect(asked, `${role}: ${query}`).rejects.toThrow(/permission denied/);
  }
});

test('stored bytes that were changed behind our back make no copies', async () => {
  const work = await writtenUpLine(installer);
  const { photoId } = must(await add(await aJpeg(), work));
  const [row] = await admin((sql) => sql`select storage_key from photos where id = ${photoId}`);
  const path = join(world.objects.temporaryDirectory, '..', String(row?.storage_key));
  await writeFile(path, (await readFile(path)).subarray(1));
  await expect(makeCopies(photoId)).rejects.toThrow('has changed');
  expect(await temporaryFiles()).toEqual([]);
});
