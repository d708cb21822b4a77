import { createHash } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { stat } from 'node:fs/promises';
import { Readable } from 'node:stream';
import {
  GetObjectCommand,
  HeadBucketCommand,
  HeadObjectCommand,
  PutObjectCommand,
  S3Client,
  S3ServiceException,
} from '@aws-sdk/client-s3';
import { ok, type Result, refuse } from '@grainwright/domain';
import { digestOf, type ObjectKey, toObjectKey } from './object-key.ts';
import type { ObjectStore, StoredObject } from './storage.ts';

export interface S3Settings {
  /** Of a store that speaks S3; undefined: that of Amazon in the region. */
  readonly endpoint: string | undefined;
  readonly region: string;
  readonly bucket: string;
  readonly accessKeyId: string;
  readonly secretAccessKey: string;
}

export interface S3Storage extends ObjectStore {
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
  const sizeOf = async (key: ObjectKey) => {
    const found = await whereThere(
      client.send(new HeadObjectCommand({ Bucket: bucket, Key: toObjectKey(key) })),
    );
    return found === null ? null : (found.ContentLength ?? 0);
  };
  return {
    put: (localPath, key) => putFile(client, bucket, localPath, toObjectKey(key)),
    open: (key) => openObject(client, bucket, toObjectKey(key)),
    has: async (key) => (await sizeOf(key)) !== null,
    size: sizeOf,
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

async function openObject(client: S3Client, bucket: string, key: ObjectKey): Promise<StoredObject | null> {
  const found = await whereThere(client.send(new GetObjectCommand({ Bucket: bucket, Key: key })));
  if (found === null) return null;
  if (!(found.Body instanceof Readable)) throw new Error(`the store answered ${key} without content`);
  return { stream: found.Body, bytes: found.ContentLength ?? 0 };
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
