import { mkdir } from 'node:fs/promises';
import { join } from 'node:path';
import S3rver from 's3rver';
import { afterAll, expect, test } from 'vitest';
import { scratchDirectory } from '../scratch-directory.test-support.ts';
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
