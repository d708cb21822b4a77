import { createHash } from 'node:crypto';
import { mkdir, readdir, readFile, rm, symlink, utimes, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { buffer } from 'node:stream/consumers';
import { type TenantId, toId } from '@grainwright/domain';
import { expect, test } from 'vitest';
import { scratchDirectory } from '../scratch-directory.test-support.ts';
import { diskStorage } from './disk-storage.ts';
import { fetchObject } from './fetch-object.ts';
import { objectKey, toObjectKey } from './object-key.ts';

const scratch = await scratchDirectory();
const tenant = toId<TenantId>('01980c1e-7b1a-7000-8000-000000000001');
const otherTenant = toId<TenantId>('01980c1e-7b1a-7000-8000-000000000002');
// SHA-256 of the three letters "abc": FIPS 180-2 appendix B.1.
const abc = 'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad';

async function world(name: string) {
  const root = join(scratch, name);
  await mkdir(root);
  const source = join(root, 'source');
  await writeFile(source, 'abc');
  return { source, objects: join(root, 'objects'), storage: await diskStorage(join(root, 'objects')) };
}

test('what was put is read back whole, with its length, under a key that names its content', async () => {
  const { source, objects, storage } = await world('round');
  const key = objectKey(tenant, 'original', abc);
  expect(key).toBe(`tenant/${tenant}/original/ba/${abc}`);
  await storage.put(source, key);
  const found = await storage.open(key);
  expect(found?.bytes).toBe(3);
  expect(found && (await buffer(found.stream)).toString()).toBe('abc');
  expect(await storage.has(key)).toBe(true);
  expect(await storage.size(key)).toBe(3);
  expect(await readFile(join(objects, key), 'utf8')).toBe('abc');
  expect(await readFile(source, 'utf8')).toBe('abc');
});

test('the same content twice, also at the same moment, is one object and leaves no temporary file', async () => {
  const { source, storage } = await world('twice');
  const key = objectKey(tenant, 'original', abc);
  await storage.put(source, key);
  await Promise.all(Array.from({ length: 8 }, () => storage.put(source, key)));
  expect(await storage.size(key)).toBe(3);
  expect(await readdir(storage.temporaryDirectory)).toEqual([]);
});

test('an object that was damaged on the disk is made whole by putting its content again', async () => {
  const { source, objects, storage } = await world('heal');
  const key = objectKey(tenant, 'original', abc);
  await storage.put(source, key);
  await writeFile(join(objects, key), 'ab');
  await storage.put(source, key);
  expect(await readFile(join(objects, key), 'utf8')).toBe('abc');
});

test('content that does not have the digest of its key is never kept', async () => {
  const { source, storage } = await world('mismatch');
  await writeFile(source, 'abd');
  const key = objectKey(tenant, 'original', abc);
  await expect(storage.put(source, key)).rejects.toThrow(/SHA-256/);
  expect(await storage.has(key)).toBe(false);
  expect(await readdir(storage.temporaryDirectory)).toEqual([]);
});

test('a source that is not there leaves nothing behind', async () => {
  const { objects, storage } = await world('absent');
  await expect(storage.put(join(objects, 'nowhere'), objectKey(tenant, 'view', abc))).rejects.toThrow(
    /ENOENT/,
  );
  expect(await readdir(storage.temporaryDirectory)).toEqual([]);
});

test('a key of another tenant or kind has nothing under it', async () => {
  const { source, storage } = await world('apart');
  await storage.put(source, objectKey(tenant, 'original', abc));
  for (const key of [objectKey(otherTenant, 'original', abc), objectKey(tenant, 'thumb', abc)]) {
    expect(await storage.has(key)).toBe(false);
    expect(await storage.size(key)).toBeNull();
    expect(await storage.open(key)).toBeNull();
  }
});

test.each([
  `tenant/${tenant}/original/ba/../../../../../etc/passwd`,
  `tenant/${tenant}/original/ba/${abc}/..`,
  `tenant/../original/ba/${abc}`,
  `tenant/${tenant}/../ba/${abc}`,
  `tenant/${tenant}/original/bb/${abc}`,
  `tenant/${tenant}/original/BA/${abc.toUpperCase()}`,
  `tenant/${tenant}/secrets/ba/${abc}`,
  `/tenant/${tenant}/original/ba/${abc}`,
  `tenant//${tenant}/original/ba/${abc}`,
  `tenant/${tenant}/original/ba/${abc}\n`,
  `tenant/${tenant}/original/ba/${abc}\0`,
  `tenant\\${tenant}\\original\\ba\\${abc}`,
  '',
])('a key that is not of the one form is refused before any file is touched: %j', (text) => {
  expect(() => toObjectKey(text)).toThrow(/not an object key/);
});

test('the sweep removes what a stopped process left, and neither newer files nor objects', async () => {
  const { source, storage } = await world('sweep');
  const key = objectKey(tenant, 'original', abc);
  await storage.put(source, key);
  const old = join(storage.temporaryDirectory, 'old.part');
  const recent = join(storage.temporaryDirectory, 'recent.part');
  await Promise.all([writeFile(old, 'half'), writeFile(recent, 'half')]);
  await utimes(old, new Date('2026-08-05T08:00:00Z'), new Date('2026-08-05T08:00:00Z'));
  await utimes(recent, new Date('2026-08-05T12:00:00Z'), new Date('2026-08-05T12:00:00Z'));
  expect(await storage.sweepTemporary(new Date('2026-08-05T11:00:00Z'))).toBe(1);
  expect(await readdir(storage.temporaryDirectory)).toEqual(['recent.part']);
  expect(await storage.has(key)).toBe(true);
});

test('the check says so when the disk takes no files', async () => {
  const { storage } = await world('check');
  expect(await storage.check()).toEqual({ ok: true, value: undefined });
  expect(await readdir(storage.temporaryDirectory)).toEqual([]);
  await rm(storage.temporaryDirectory, { recursive: true });
  expect(await storage.check()).toMatchObject({ ok: false, problem: { code: 'unavailable' } });
});

test('storage below a folder that is reached through a link and a relative path works', async () => {
  const { source, objects } = await world('linked');
  await symlink(objects, join(scratch, 'link'));
  const storage = await diskStorage(`${scratch}/round/../link/`);
  const key = objectKey(tenant, 'original', abc);
  await storage.put(source, key);
  expect(await readFile(join(objects, key), 'utf8')).toBe('abc');
});

test('an object fetched to a local file is proved on the way', async () => {
  const { source, objects, storage } = await world('fetch');
  const key = objectKey(tenant, 'original', abc);
  const target = join(scratch, 'fetched');
  expect(await fetchObject(storage, key, target)).toBe(false);
  await storage.put(source, key);
  expect(await fetchObject(storage, key, target)).toBe(true);
  expect(
    createHash('sha256')
      .update(await readFile(target))
      .digest('hex'),
  ).toBe(abc);
  await writeFile(join(objects, key), 'abd');
  const spoiled = join(scratch, 'spoiled');
  await expect(fetchObject(storage, key, spoiled)).rejects.toThrow(/has changed/);
  await expect(readFile(spoiled)).rejects.toThrow(/ENOENT/);
});
