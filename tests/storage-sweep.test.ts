import { createHash, randomBytes } from 'node:crypto';
import { utimes, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { Readable } from 'node:stream';
import { findNamedObjects, objectNames } from '@grainwright/db';
import { ok, type TenantId, type UploadId } from '@grainwright/domain';
import { type ObjectKey, type ObjectKind, objectKey } from '@grainwright/evidence';
import {
  addUploadPart,
  beginUpload,
  makePhotoDerivatives,
  readUpload,
  sweepOrphans,
} from '@grainwright/operations';
import { Logger, quickAddJob, runOnce } from 'graphile-worker';
import { beforeAll, expect, test } from 'vitest';
import { sweepStorageTask } from '../apps/worker/src/tasks/sweep-storage.ts';
import { asAdministrator, photographed, writtenUpLine } from './support/work-in-hand.ts';
import { aBusiness, anAccount, type Business, must, openWorld, type World } from './support/world.ts';

let world: World;
let business: Business;

beforeAll(async () => {
  world = await openWorld();
  business = await aBusiness(world);
  // The disk's clock is the computer's; the world's is set, and must not be behind it where the two are compared.
  world.at('2026-08-05T09:00');
});

const old = new Date('2020-01-01T00:00:00Z');
/** Between what `age` makes old and what a test has just put. */
const since = new Date('2021-01-01T00:00:00Z');

async function age(key: string): Promise<void> {
  await utimes(join(world.objectsFolder, ...key.split('/')), old, old);
}

async function put(kind: ObjectKind, tenantId: TenantId = business.tenantId) {
  const bytes = randomBytes(20);
  const path = join(world.objects.temporaryDirectory, `source-${world.newId()}`);
  await writeFile(path, bytes);
  const key = objectKey(tenantId, kind, createHash('sha256').update(bytes).digest('hex'));
  await world.objects.put(path, key);
  return { key, path };
}

const sweep = async (remove = true, tenantId = business.tenantId) =>
  must(await sweepOrphans(world.services, { tenantId, lastWrittenBefore: since, remove }));

async function everyKey(): Promise<readonly ObjectKey[]> {
  const found: ObjectKey[] = [];
  for await (const { key } of world.objects.list(business.tenantId)) found.push(key);
  return found.toSorted();
}

/** So many bytes announced, and the first part of them sent. */
async function begunUpload(): Promise<UploadId> {
  const uploadId = world.newId<UploadId>();
  const part = randomBytes(100);
  const sha256 = createHash('sha256').update(part).digest('hex');
  const limits = { photoBytesMax: 1000, recordingBytesMax: 1000 };
  const announced = { uploadId, bytes: 300, sha256, mediaType: 'image/jpeg' };
  must(await beginUpload(world.services, business.technician, announced, limits));
  const directory = world.objects.temporaryDirectory;
  const stream = Readable.from([part]);
  must(
    await addUploadPart(world.services, business.technician, {
      uploadId,
      offset: 0,
      sha256,
      stream,
      directory,
    }),
  );
  return uploadId;
}

test('bytes without a row go once they are old; what is young, named, a logo or another’s stays', async () => {
  const account = await anAccount(business);
  const work = await writtenUpLine(account);
  const photoId = await photographed(account, work.workOrderId, work.lineId, 'before');
  const { tenantId } = business;
  const directory = world.objects.temporaryDirectory;
  must(await makePhotoDerivatives(world.services, { tenantId, photoId, directory }));
  const named = await everyKey();
  expect(named).toHaveLength(3);
  const other = await aBusiness(world);
  const [orphan, copy, young, logo, others] = [
    await put('original'),
    await put('view'),
    await put('original'),
    await put('logo'),
    await put('original', other.tenantId),
  ];
  for (const key of [...named, orphan.key, copy.key, logo.key, others.key]) await age(key);
  const told = await sweep(false);
  expect(told.objects).toBe(named.length + 4);
  expect(told.orphans.map(({ key }) => key).toSorted()).toEqual([orphan.key, copy.key].toSorted());
  expect(await world.objects.has(orphan.key)).toBe(true);
  expect((await sweep()).orphans).toHaveLength(2);
  expect(await everyKey()).toEqual([...named, young.key, logo.key].toSorted());
  expect((await sweep()).orphans).toEqual([]);
  expect(await world.objects.has(others.key)).toBe(true);
});

test('more than dying processes leave are removed only by whoever says so', async () => {
  const { tenantId } = await aBusiness(world);
  const keys = (await Promise.all([1, 2, 3].map(() => put('original', tenantId)))).map(({ key }) => key);
  for (const key of keys) await age(key);
  const asked = { tenantId, lastWrittenBefore: since, remove: true };
  const capped = must(await sweepOrphans(world.services, { ...asked, orphansMax: 2 }));
  expect(capped).toMatchObject({ removed: false, objects: 3 });
  expect(capped.orphans).toHaveLength(3);
  for (const key of keys) expect(await world.objects.has(key)).toBe(true);
  expect(must(await sweepOrphans(world.services, { ...asked, orphansMax: 3 }))).toMatchObject({
    removed: true,
  });
  for (const key of keys) expect(await world.objects.has(key)).toBe(false);
});

test('what is put again between the look and the removal stays: somebody is about to name it', async () => {
  const { key, path } = await put('original');
  await age(key);
  const slow = {
    ...world.services,
    objects: {
      ...world.objects,
      // The same photo arrives again just before the sweep removes what it saw.
      remove: async (...[removed, options]: Parameters<typeof world.objects.remove>) => {
        if (removed === key) await world.objects.put(path, key);
        return world.objects.remove(removed, options);
      },
    },
  };
  const { tenantId } = business;
  expect(
    must(await sweepOrphans(slow, { tenantId, lastWrittenBefore: since, remove: true })).orphans,
  ).toEqual([]);
  expect(await world.objects.has(key)).toBe(true);
});

test('what gets a row between the look and the removal stays', async () => {
  const shop = await aBusiness(world);
  const keys = (await Promise.all([1, 2].map(() => put('original', shop.tenantId)))).map(({ key }) => key);
  for (const key of keys) await age(key);
  const slow = {
    ...world.services,
    objects: {
      ...world.objects,
      // While the first goes, the other is named.
      remove: async (...[removed, options]: Parameters<typeof world.objects.remove>) => {
        const other = keys.find((key) => key !== removed) ?? null;
        await asAdministrator(
          world,
          (sql) => sql`update businesses set logo_key = ${other}, logo_media_type = 'image/png'
            where tenant_id = ${shop.tenantId}`,
        );
        return world.objects.remove(removed, options);
      },
    },
  };
  const asked = { tenantId: shop.tenantId, lastWrittenBefore: since, remove: true };
  expect(must(await sweepOrphans(slow, asked)).orphans).toHaveLength(1);
  expect(await Promise.all(keys.map((key) => world.objects.has(key)))).toContain(true);
});

test('an upload is forgotten after a week without a part, and its parts go with it', async () => {
  world.at('2026-08-05T09:00');
  const uploadId = await begunUpload();
  const part = (await everyKey()).find((key) => key.includes(uploadId));
  if (part === undefined) throw new Error('the part is not there');
  await age(part);
  world.at('2026-08-12T08:59');
  expect(await sweep()).toMatchObject({ uploads: 0, orphans: [] });
  world.at('2026-08-12T09:01');
  expect(await sweep(false)).toMatchObject({ uploads: 1, orphans: [] });
  expect(must(await readUpload(world.services, business.technician, uploadId)).offset).toBe(100);
  expect(await sweep()).toMatchObject({ uploads: 1, orphans: [{ key: part, bytes: 100 }] });
  expect(await readUpload(world.services, business.technician, uploadId)).toMatchObject({
    ok: false,
    problem: { code: 'not_found' },
  });
  expect(await world.objects.has(part)).toBe(false);
});

test('every column of the database that names an object is asked before one is removed', async () => {
  const columns = await asAdministrator(
    world,
    (sql) => sql`select c.relname as table, a.attname as column
      from pg_attribute a join pg_class c on c.oid = a.attrelid
      where c.relnamespace = 'public'::regnamespace and c.relkind = 'r' and not a.attisdropped
        and a.atttypid = 'text'::regtype and a.attname like '%\\_key' and a.attname <> 'public_key'`,
  );
  const known = objectNames.map(([table, column]) => ({ table, column }));
  const byName = (a: { table: string; column: string }, b: { table: string; column: string }) =>
    `${a.table}.${a.column}` < `${b.table}.${b.column}` ? -1 : 1;
  expect(columns.map(({ table, column }) => ({ table, column })).toSorted(byName)).toEqual(
    known.toSorted(byName),
  );
  const asked = await world.database.withTenant({ role: 'staff', tenantId: business.tenantId }, async (tx) =>
    ok(await findNamedObjects(tx, ['tenant/nobody'])),
  );
  expect(must(asked).size).toBe(0);
});

test('the hourly sweep goes on with the next business where one has more without a row than a dying process leaves', async () => {
  const careful = await aBusiness(world);
  const other = await aBusiness(world);
  const putAged = async (tenantId: TenantId) => {
    const { key } = await put('original', tenantId);
    await age(key);
    return key;
  };
  const many = await Promise.all(Array.from({ length: 201 }, () => putAged(careful.tenantId)));
  const [first, second] = many as [ObjectKey, ObjectKey];
  const gone = await putAged(other.tenantId);
  const told: string[] = [];
  const logger = new Logger(() => (_level, message) => void told.push(message));
  const sweepOnce = async () => {
    const connectionString = world.adminUrl;
    await quickAddJob({ connectionString, logger }, 'sweep_storage', {}, { maxAttempts: 1 });
    const taskList = { sweep_storage: sweepStorageTask({ services: world.services }) };
    await runOnce({ connectionString, logger, taskList, parsedCronItems: [] });
  };
  await sweepOnce();
  expect(told.join('\n')).toContain('sweeping the storage failed for 1 businesses');
  expect(told.join('\n')).toContain(`of business ${careful.tenantId} failed`);
  expect(told.join('\n')).toContain('201 objects have no row, which is too many to remove unseen');
  expect(told.join('\n')).toContain(`of business ${other.tenantId}: 1 objects without a row`);
  expect(await world.objects.size(gone)).toBeNull();
  expect(await world.objects.size(first)).toBe(20);
  // One fewer is no longer too many.
  await world.objects.remove(first);
  await sweepOnce();
  expect(await world.objects.size(second)).toBeNull();
});
