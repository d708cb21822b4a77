import { mkdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { buffer } from 'node:stream/consumers';
import { type TenantId, toId } from '@grainwright/domain';
import S3rver from 's3rver';
import { afterAll, expect, test } from 'vitest';
import { scratchDirectory } from '../scratch-directory.test-support.ts';
import { fetchObject } from './fetch-object.ts';
import { objectKey } from './object-key.ts';
import { readS3Settings } from './s3-settings.ts';
import { s3Storage } from './s3-storage.ts';

// Against s3rver, a server that speaks S3 and was written by others.
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
const settings = {
  endpoint: `http://127.0.0.1:${port}`,
  region: 'us-east-1',
  bucket: 'photos',
  accessKeyId: 'S3RVER',
  secretAccessKey: 'S3RVER',
};
const storage = s3Storage(settings);
afterAll(async () => {
  storage.close();
  await server.close();
});

const tenant = toId<TenantId>('01980c1e-7b1a-7000-8000-000000000001');
const otherTenant = toId<TenantId>('01980c1e-7b1a-7000-8000-000000000002');
// SHA-256 of the three letters "abc": FIPS 180-2 appendix B.1.
const abc = 'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad';
const source = join(scratch, 'source');
await writeFile(source, 'abc');

test('what was put is read back whole, with its length', async () => {
  const key = objectKey(tenant, 'original', abc);
  await storage.put(source, key);
  await storage.put(source, key);
  const found = await storage.open(key);
  expect(found?.bytes).toBe(3);
  expect(found && (await buffer(found.stream)).toString()).toBe('abc');
  expect(await storage.has(key)).toBe(true);
  expect(await storage.size(key)).toBe(3);
  const copy = join(scratch, 'copy');
  expect(await fetchObject(storage, key, copy)).toBe(true);
  expect(await readFile(copy, 'utf8')).toBe('abc');
});

test('a key of another tenant or kind has nothing under it', async () => {
  await storage.put(source, objectKey(tenant, 'original', abc));
  for (const key of [objectKey(otherTenant, 'original', abc), objectKey(tenant, 'thumb', abc)]) {
    expect(await storage.has(key)).toBe(false);
    expect(await storage.size(key)).toBeNull();
    expect(await storage.open(key)).toBeNull();
  }
});

test('content that does not have the digest of its key is never sent', async () => {
  const other = join(scratch, 'other');
  await writeFile(other, 'abd');
  const key = objectKey(tenant, 'view', abc);
  await expect(storage.put(other, key)).rejects.toThrow(/SHA-256/);
  expect(await storage.has(key)).toBe(false);
});

test('the check says so when the bucket is not there', async () => {
  expect(await storage.check()).toEqual({ ok: true, value: undefined });
  const elsewhere = s3Storage({ ...settings, bucket: 'nowhere' });
  expect(await elsewhere.check()).toMatchObject({ ok: false, problem: { code: 'unavailable' } });
  elsewhere.close();
});

test('the environment names the store, and what is missing is named', () => {
  expect(readS3Settings({})).toBeNull();
  const named = { S3_BUCKET: 'photos', S3_ACCESS_KEY_ID: 'a', S3_SECRET_ACCESS_KEY: 'b' };
  expect(readS3Settings(named)).toMatchObject({ bucket: 'photos', endpoint: undefined, region: 'us-east-1' });
  expect(() => readS3Settings({ ...named, S3_SECRET_ACCESS_KEY: '' })).toThrow(/S3_SECRET_ACCESS_KEY/);
  expect(() => readS3Settings({ ...named, S3_ENDPOINT: 'store:9000' })).toThrow(/S3_ENDPOINT/);
});
