import { createHash, randomUUID } from 'node:crypto';
import { rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { buffer } from 'node:stream/consumers';
import type { TenantId } from '@grainwright/domain';
import {
  digestOf,
  type ObjectKey,
  type ObjectKind,
  type ObjectStore,
  objectKey,
} from '@grainwright/evidence';

/** Puts a small file that was just made under the key that names its content, durably. */
export async function keepBytes(
  objects: ObjectStore,
  tenantId: TenantId,
  kind: ObjectKind,
  bytes: Uint8Array,
): Promise<{ readonly storageKey: ObjectKey; readonly sha256: string }> {
  const sha256 = sha256Of(bytes);
  const storageKey = objectKey(tenantId, kind, sha256);
  const path = join(tmpdir(), `grainwright-${randomUUID()}`);
  try {
    await writeFile(path, bytes, { flag: 'wx', mode: 0o600 });
    await objects.put(path, storageKey);
  } finally {
    await rm(path, { force: true });
  }
  return { storageKey, sha256 };
}

/** A small object, whole. Null where there is none; throws when it is not what its key names. */
export async function readBytes(objects: ObjectStore, key: ObjectKey): Promise<Uint8Array | null> {
  const found = await objects.open(key);
  if (found === null) return null;
  const bytes = await buffer(found.stream);
  if (sha256Of(bytes) !== digestOf(key)) throw new Error(`the stored content of ${key} has changed`);
  return bytes;
}

function sha256Of(bytes: Uint8Array): string {
  return createHash('sha256').update(bytes).digest('hex');
}
