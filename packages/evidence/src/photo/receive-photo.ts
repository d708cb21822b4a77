import { createHash, randomUUID } from 'node:crypto';
import { createWriteStream } from 'node:fs';
import { rm } from 'node:fs/promises';
import { join } from 'node:path';
import { type Readable, Transform } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { checkPhotoBytes, ok, type Result, refuse } from '@grainwright/domain';

export interface ReceiveOptions {
  /** Where the file is put, under a name of our own. */
  readonly directory: string;
  readonly maxBytes: number;
  /** Whether the upload's parser cut the stream short at its own limit. Asked once the stream has ended. */
  readonly truncated?: () => boolean;
}

export interface ReceivedPhoto {
  readonly path: string;
  /** SHA-256 of the bytes as they came, lower-case hex. */
  readonly sha256: string;
  readonly bytes: number;
}

/**
 * Writes an upload to disk as it comes, never holding it in memory, and takes its digest on the way. Refuses
 * with `photo_too_large` above the cap. Throws when the upload breaks off. Whenever it does not answer with a
 * file, none is left. The file is the caller's to remove.
 */
export async function receivePhoto(
  stream: Readable,
  { directory, maxBytes, truncated = () => false }: ReceiveOptions,
): Promise<Result<ReceivedPhoto>> {
  const path = join(directory, `${randomUUID()}.upload`);
  const meter = new Meter(maxBytes);
  try {
    await pipeline(stream, meter, createWriteStream(path, { flags: 'wx', mode: 0o600 }));
  } catch (error) {
    await rm(path, { force: true });
    if (!isDiskFull(error)) throw error;
    return refuse('unavailable', 'The photo storage is full. Keep the photo on the phone and send it later.');
  }
  const size = checkPhotoBytes(truncated() ? Number.POSITIVE_INFINITY : meter.bytes, maxBytes);
  if (!size.ok) {
    await rm(path, { force: true });
    return size;
  }
  return ok({ path, sha256: meter.digest(), bytes: meter.bytes });
}

/** What is above the cap is counted and dropped rather than refused at once, so the sender lives to read our answer. */
class Meter extends Transform {
  bytes = 0;
  readonly #hash = createHash('sha256');
  readonly #maxBytes: number;

  constructor(maxBytes: number) {
    super();
    this.#maxBytes = maxBytes;
  }

  override _transform(chunk: Buffer, _encoding: BufferEncoding, done: () => void): void {
    this.bytes += chunk.length;
    if (this.bytes <= this.#maxBytes) {
      this.#hash.update(chunk);
      this.push(chunk);
    }
    done();
  }

  digest(): string {
    return this.#hash.digest('hex');
  }
}

function isDiskFull(error: unknown): boolean {
  return error instanceof Error && 'code' in error && (error.code === 'ENOSPC' || error.code === 'EDQUOT');
}
