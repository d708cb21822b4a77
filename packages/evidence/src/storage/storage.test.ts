import { mkdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { buffer } from 'node:stream/consumers';
import { type TenantId, toId, type UploadId } from '@grainwright/domain';
import S3rver from 's3rver';
import { afterAll, describe, expect, test } from 'vitest';
import { scratchDirectory } from '../scratch-directory.test-support.ts';
import { diskStorage } from './disk-storage.ts';
import { fetchObject } from './fetch-object.ts';
import { objectKey, partKey } from './object-key.ts';
import { s3Storage } from './s3-storage.ts';
import type { ListedObject, ObjectStore } from './storage.ts';

// One suite for both kinds of store; S3 is spoken with s3rver, a server that was written by others.
const scratch = await scratchDirectory();
await mkdir(join(scratch, 'buckets'));
const server = new S3rver({
  port: 0,
  address: '127.0.0.1',
  silent: true,
  directory: join(scratch, 'buckets'),
  configureBuckets: [{ name: 'photos', configs: [] }],
});
const { port } = await server.run();
const inBucket = s3Storage({
  endpoint: `http://127.0.0.1:${port}`,
  region: 'us-east-1',
  bucket: 'photos',
  accessKeyId: 'S3RVER',
  secretAccessKey: 'S3RVER',
});
afterAll(async () => {
  inBucket.close();
  await server.close();
});
const onDisk = await diskStorage(join(scratch, 'objects'));
const stores: readonly [string, ObjectStore][] = [
  ['a folder', onDisk],
  ['a bucket', inBucket],
];

const tenants = Array.from({ length: 9 }, (_, index) =>
  toId<TenantId>(`01980c1e-7b1a-7000-8000-00000000000${index}`),
);
const upload = toId<UploadId>('01980c1e-7b1a-7000-8000-0000000000aa');
// SHA-256 of the three letters "abc" and of nothing: FIPS 180-2 appendix B.1, and NIST's example for an empty message.
const abc = 'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad';
const nothing = 'e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855';
const source = join(scratch, 'source');
await writeFile(source, 'abc');

describe.each(stores)('in %s', (name, store) => {
  /** One for each test, so that none sees another's objects. */
  const tenantOf = (index: number) => tenants[index] ?? toId<TenantId>('none');

  async function listed(tenant: TenantId): Promise<readonly ListedObject[]> {
    const found: ListedObject[] = [];
    for await (const each of store.list(tenant)) found.push(each);
    return found.toSorted((a, b) => (a.key < b.key ? -1 : 1));
  }

  test('what was put is read back whole, with its length; put again it is one object', async () => {
    const key = objectKey(tenantOf(0), 'original', abc);
    await Promise.all([store.put(source, key), store.put(source, key)]);
    const found = await store.open(key);
    expect(found?.bytes).toBe(3);
    expect(found && (await buffer(found.stream)).toString()).toBe('abc');
    expect([await store.has(key), await store.size(key)]).toEqual([true, 3]);
    const copy = join(scratch, `copy in ${name}`);
    expect(await fetchObject(store, key, copy)).toBe(true);
    expect(await readFile(copy, 'utf8')).toBe('abc');
    expect(await listed(tenantOf(0))).toMatchObject([{ key, bytes: 3 }]);
  });

  test('a part of what was put is read by its first and last byte', async () => {
    const key = objectKey(tenantOf(0), 'view', abc);
    await store.put(source, key);
    for (const [first, last, words] of [
      [0, 2, 'abc'],
      [1, 1, 'b'],
      [1, 2, 'bc'],
    ] as const) {
      const part = await store.openRange(key, { first, last });
      expect(part?.bytes).toBe(words.length);
      expect(part && (await buffer(part.stream)).toString()).toBe(words);
    }
    await store.remove(key);
    expect(await store.openRange(key, { first: 0, last: 1 })).toBeNull();
  });

  test('a key of another tenant or kind has nothing under it', async () => {
    await store.put(source, objectKey(tenantOf(1), 'original', abc));
    for (const key of [objectKey(tenantOf(8), 'original', abc), objectKey(tenantOf(1), 'thumb', abc)]) {
      expect([await store.has(key), await store.size(key), await store.open(key)]).toEqual([
        false,
        null,
        null,
      ]);
      expect(await store.remove(key)).toBe(false);
    }
  });

  test('content that does not have the digest of its key is never kept', async () => {
    const other = join(scratch, `other in ${name}`);
    await writeFile(other, 'abd');
    const key = objectKey(tenantOf(2), 'view', abc);
    await expect(store.put(other, key)).rejects.toThrow(/SHA-256/);
    expect(await store.has(key)).toBe(false);
    expect(await listed(tenantOf(2))).toEqual([]);
  });

  test('a source that is not there leaves nothing', async () => {
    const key = objectKey(tenantOf(3), 'view', abc);
    await expect(store.put(join(scratch, 'nowhere'), key)).rejects.toThrow(/ENOENT/);
    expect(await listed(tenantOf(3))).toEqual([]);
  });

  test('what was removed is gone, once; the rest of the tenant stays', async () => {
    const [gone, stays] = [objectKey(tenantOf(4), 'original', abc), objectKey(tenantOf(4), 'view', abc)];
    await store.put(source, gone);
    await store.put(source, stays);
    expect(await store.remove(gone)).toBe(true);
    expect(await store.remove(gone)).toBe(false);
    expect([await store.has(gone), await store.open(gone)]).toEqual([false, null]);
    expect((await listed(tenantOf(4))).map(({ key }) => key)).toEqual([stays]);
    await store.put(source, gone);
    expect(await store.has(gone)).toBe(true);
  });

  test('what was put again since a moment is left where it is', async () => {
    const key = objectKey(tenantOf(5), 'original', abc);
    await store.put(source, key);
    const [{ writtenAt }] = (await listed(tenantOf(5))) as [ListedObject];
    expect(await store.remove(key, { unlessWrittenSince: new Date(writtenAt.getTime()) })).toBe(false);
    expect(await store.size(key)).toBe(3);
    expect(await store.remove(key, { unlessWrittenSince: new Date(writtenAt.getTime() + 2000) })).toBe(true);
    expect(await store.has(key)).toBe(false);
  });

  test('a part has its upload’s id in its key, and is listed with everything else', async () => {
    const [part, original] = [partKey(tenantOf(6), upload, abc), objectKey(tenantOf(6), 'original', abc)];
    await store.put(source, part);
    await store.put(source, original);
    expect(part).toBe(`tenant/${tenantOf(6)}/part/ba/${upload}-${abc}`);
    expect((await listed(tenantOf(6))).map(({ key }) => key)).toEqual([original, part].toSorted());
    await store.remove(part);
    expect((await listed(tenantOf(6))).map(({ key }) => key)).toEqual([original]);
    expect(await listed(tenantOf(7))).toEqual([]);
  });

  test('an empty file is an object too', async () => {
    const empty = join(scratch, `empty in ${name}`);
    await writeFile(empty, '');
    const key = objectKey(tenantOf(7), 'document', nothing);
    await store.put(empty, key);
    expect(await store.size(key)).toBe(0);
    const found = await store.open(key);
    expect(found && (await buffer(found.stream)).length).toBe(0);
    await store.remove(key);
  });

  test('it says that it takes bytes', async () => {
    expect(await store.check()).toEqual({ ok: true, value: undefined });
  });
});

test('a bucket’s list goes on where a page of it ends', async () => {
  const tenant = toId<TenantId>('01980c1e-7b1a-7000-8000-000000000010');
  const keys = await Promise.all(
    Array.from({ length: 5 }, async (_, index) => {
      const key = partKey(tenant, toId<UploadId>(`01980c1e-7b1a-7000-8000-0000000000b${index}`), abc);
      await inBucket.put(source, key);
      return key;
    }),
  );
  const found: string[] = [];
  for await (const { key } of inBucket.list(tenant, { pageSize: 2 })) found.push(key);
  expect(found.toSorted()).toEqual(keys.toSorted());
});
