import { createHash } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { stat } from 'node:fs/promises';
import { Readable } from 'node:stream';
import {
  DeleteObjectCommand,
  GetObjectCommand,
  HeadBucketCommand,
  HeadObjectCommand,
  ListObjectsCommand,
  type ListObjectsCommandOutput,
  PutObjectCommand,
  S3Client,
  S3ServiceException,
} from '@aws-sdk/client-s3';
import { ok, type Result, refuse, type TenantId } from '@grainwright/domain';
import { digestOf, isObjectKey, type ObjectKey, toObjectKey } from './object-key.ts';
import type { ByteRange, ListedObject, ObjectStore, StoredObject } from './storage.ts';

export interface S3Settings {
  /** Of a store that speaks S3; undefined: that of Amazon in the region. */
  readonly endpoint: string | undefined;
  readonly region: string;
  readonly bucket: string;
  readonly accessKeyId: string;
  readonly secretAccessKey: string;
}

export interface S3Storage extends ObjectStore {
  /** As the store's own, in pages of at most so many; it has a thousand at most. */
  list(tenantId: TenantId, options?: { readonly pageSize?: number }): AsyncIterable<ListedObject>;
  close(): void;
}

/** Objects in a bucket that is there already, which nobody but this service reads. */
export function s3Storage(settings: S3Settings): S3Storage {
  const { endpoint, region, bucket, accessKeyId, secretAccessKey } = settings;
  const client = new S3Client({
    region,
    credentials: { accessKeyId, secretAccessKey },
    // Stores other than Amazon's seldom answer at a host of the bucket's own name, or know its newest checksums.
    ...(endpoint === undefined ? {} : { endpoint, forcePathStyle: true }),
    requestChecksumCalculation: 'WHEN_REQUIRED',
    responseChecksumValidation: 'WHEN_REQUIRED',
  });
  const headOf = (key: ObjectKey) =>
    whereThere(client.send(new HeadObjectCommand({ Bucket: bucket, Key: toObjectKey(key) })));
  const sizeOf = async (key: ObjectKey) => {
    const found = await headOf(key);
    return found === null ? null : (found.ContentLength ?? 0);
  };
  return {
    put: (localPath, key) => putFile(client, bucket, localPath, toObjectKey(key)),
    open: (key) => openObject(client, bucket, toObjectKey(key)),
    openRange: (key, range) => openObject(client, bucket, toObjectKey(key), range),
    has: async (key) => (await sizeOf(key)) !== null,
    size: sizeOf,
    remove: async (key, { unlessWrittenSince } = {}) => {
      // The store can't look and remove in one step: what is put within that one round trip goes with the rest.
      const found = await headOf(key);
      if (found === null) return false;
      if (unlessWrittenSince !== undefined && !isOlder(found.LastModified, unlessWrittenSince)) return false;
      await client.send(new DeleteObjectCommand({ Bucket: bucket, Key: toObjectKey(key) }));
      return true;
    },
    list: (tenantId, { pageSize = 1000 } = {}) => listObjects(client, { bucket, tenantId, pageSize }),
    check: () => checkBucket(client, bucket),
    close: () => client.destroy(),
  };
}

/** The digest is proved before anything is sent, and sent along, so that the store refuses what changed on the way. */
async function putFile(client: S3Client, bucket: string, from: string, key: ObjectKey): Promise<void> {
  const sha256 = await digestOfFile(from);
  if (sha256 !== digestOf(key))
    throw new Error(`content has SHA-256 ${sha256}, its key says ${digestOf(key)}`);
  await client.send(
    new PutObjectCommand({
      Bucket: bucket,
      Key: key,
      Body: createReadStream(from),
      ContentLength: (await stat(from)).size,
      ChecksumSHA256: Buffer.from(sha256, 'hex').toString('base64'),
    }),
  );
}

async function digestOfFile(path: string): Promise<string> {
  const hash = createHash('sha256');
  for await (const chunk of createReadStream(path)) hash.update(chunk);
  return hash.digest('hex');
}

async function openObject(
  client: S3Client,
  bucket: string,
  key: ObjectKey,
  range?: ByteRange,
): Promise<StoredObject | null> {
  const part = range === undefined ? {} : { Range: `bytes=${range.first}-${range.last}` };
  const found = await whereThere(client.send(new GetObjectCommand({ Bucket: bucket, Key: key, ...part })));
  if (found === null) return null;
  if (!(found.Body instanceof Readable)) throw new Error(`the store answered ${key} without content`);
  return { stream: found.Body, bytes: found.ContentLength ?? 0 };
}

/** By whole seconds, as stores tell times; what can't be told counts as written just now. */
function isOlder(writtenAt: Date | undefined, than: Date): boolean {
  return writtenAt !== undefined && writtenAt.getTime() + 1000 <= than.getTime();
}

async function* listObjects(
  client: S3Client,
  { bucket, tenantId, pageSize }: { bucket: string; tenantId: TenantId; pageSize: number },
): AsyncIterable<ListedObject> {
  let after: string | undefined;
  do {
    // The older of the two lists: it goes on behind a key, where the newer one needs a token of the store's making.
    const page: ListObjectsCommandOutput = await client.send(
      new ListObjectsCommand({
        Bucket: bucket,
        Prefix: `tenant/${tenantId}/`,
        MaxKeys: pageSize,
        Marker: after,
      }),
    );
    for (const { Key, Size, LastModified } of page.Contents ?? [])
      if (Key !== undefined && isObjectKey(Key) && LastModified !== undefined)
        yield { key: Key, bytes: Size ?? 0, writtenAt: LastModified };
    after = page.IsTruncated === true ? page.Contents?.at(-1)?.Key : undefined;
  } while (after !== undefined);
}

async function checkBucket(client: S3Client, bucket: string): Promise<Result<void>> {
  try {
    await client.send(new HeadBucketCommand({ Bucket: bucket }));
    return ok(undefined);
  } catch {
    return refuse('unavailable', `The photo storage does not answer: check the bucket ${bucket}.`);
  }
}

/** Null for what the store does not have; every other failure is thrown. */
async function whereThere<T>(asked: Promise<T>): Promise<T | null> {
  try {
    return await asked;
  } catch (error) {
    const missing = error instanceof S3ServiceException && error.$metadata.httpStatusCode === 404;
    if (missing) return null;
    throw error;
  }
}
