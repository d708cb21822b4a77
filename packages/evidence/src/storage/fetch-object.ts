import { createHash } from 'node:crypto';
import { createWriteStream } from 'node:fs';
import { rm } from 'node:fs/promises';
import { pipeline } from 'node:stream/promises';
import { digestOf, type ObjectKey } from './object-key.ts';
import type { ObjectStore } from './storage.ts';

/**
 * Copies an object to a local file, for work that needs one, and proves its digest on the way. Answers false when
 * there is nothing under the key; throws when the content is not what the key names. On an error no file is left.
 */
export async function fetchObject(store: ObjectStore, key: ObjectKey, toPath: string): Promise<boolean> {
  const found = await store.open(key);
  if (found === null) return false;
  const hash = createHash('sha256');
  found.stream.on('data', (chunk) => hash.update(chunk));
  try {
    await pipeline(found.stream, createWriteStream(toPath, { flags: 'wx', mode: 0o600 }));
    if (hash.digest('hex') !== digestOf(key)) throw new Error(`the stored content of ${key} has changed`);
    return true;
  } catch (error) {
    await rm(toPath, { force: true });
    throw error;
  }
}
