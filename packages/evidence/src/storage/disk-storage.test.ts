import { createHash } from 'node:crypto';
import { mkdir, readdir, readFile, rename, rm, stat, symlink, utimes, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { type TenantId, toId } from '@grainwright/domain';
import { expect, test } from 'vitest';
import { scratchDirectory } from '../scratch-directory.test-support.ts';
import { diskStorage } from './disk-storage.ts';
import { fetchObject } from './fetch-object.ts';
import { objectKey, toObjectKey } from './object-key.ts';

const scratch = await scratchDirectory();
const tenant = toId<TenantId>('01980c1e-7b1a-7000-8000-000000000001');
// SHA-256 of the three letters "abc": FIPS 180-2 appendix B.1.
const abc = 'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad';

async function world(name: string) {
  const root = join(scratch, name);
  await mkdir(root);
  const source = join(root, 'source');
  await writeFile(source, 'abc');
  return { source, objects: join(root, 'objects'), storage: await diskStorage(join(root, 'objects')) };
}

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

test('an object that was taken aside when its process was stopped is back under its key after the next start', async () => {
  const { source, objects, storage } = await world('aside');
  const key = objectKey(tenant, 'original', abc);
  await storage.put(source, key);
  const before = await stat(join(objects, key));
  const aside = `${key.replaceAll('/', '+')}+01980c1e-7b1a-4000-8000-0000000000aa.gone`;
  await rename(join(objects, key), join(storage.temporaryDirectory, aside));
  const again = await diskStorage(objects);
  await again.sweepTemporary(new Date(0));
  expect(await readFile(join(objects, key), 'utf8')).toBe('abc');
  expect((await stat(join(objects, key))).ino).toBe(before.ino);
  expect(await readdir(storage.temporaryDirectory)).toEqual([]);
});

test('what is fresh is not even taken aside', async () => {
  const { source, objects, storage } = await world('fresh');
  const key = objectKey(tenant, 'original', abc);
  await storage.put(source, key);
  const before = await stat(join(objects, key));
  expect(await storage.remove(key, { unlessWrittenSince: new Date(0) })).toBe(false);
  // A rename and a link each renew the time of its change.
  expect((await stat(join(objects, key))).ctimeMs).toBe(before.ctimeMs);
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

test('an object is a file under its key, and neither a refused nor a removed one leaves anything beside', async () => {
  const { source, objects, storage } = await world('beside');
  const key = objectKey(tenant, 'original', abc);
  expect(key).toBe(`tenant/${tenant}/original/ba/${abc}`);
  await storage.put(source, key);
  expect(await readFile(join(objects, key), 'utf8')).toBe('abc');
  await storage.remove(key, { unlessWrittenSince: new Date(0) });
  expect(await readFile(join(objects, key), 'utf8')).toBe('abc');
  await storage.remove(key);
  await writeFile(source, 'abd');
  await expect(storage.put(source, key)).rejects.toThrow(/SHA-256/);
  await expect(storage.put(join(objects, 'nowhere'), key)).rejects.toThrow(/ENOENT/);
  expect(await readdir(storage.temporaryDirectory)).toEqual([]);
});

test('the list leaves out what is no object of ours', async () => {
  const { source, objects, storage } = await world('foreign');
  const key = objectKey(tenant, 'original', abc);
  await storage.put(source, key);
  await writeFile(join(objects, 'tenant', tenant, 'original', 'ba', 'notes.txt'), 'mine');
  await writeFile(join(objects, 'tenant', tenant, 'original', 'thumbs.db'), 'mine');
  await mkdir(join(objects, 'tenant', tenant, 'original', 'ba', 'folder'));
  const found = [];
  for await (const each of storage.list(tenant)) found.push(each.key);
  expect(found).toEqual([key]);
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
