import { createHash, randomUUID } from 'node:crypto';
import { mkdir, open, readdir, rename, rm, stat } from 'node:fs/promises';
import { dirname, join, resolve } from 'node:path';
import { ok, type Result, refuse } from '@grainwright/domain';
import { digestOf, type ObjectKey, toObjectKey } from './object-key.ts';
import type { ObjectStore, StoredObject } from './storage.ts';

export interface DiskStorage extends ObjectStore {
  /** For files on their way in, on the same file system as the objects; swept by `sweepTemporary`. */
  readonly temporaryDirectory: string;
  /**
   * Removes temporary files last written before a moment, and answers how many. Run it at start, with a moment
   * far enough back that another process sharing the disk is not in the middle of one.
   */
  sweepTemporary(lastWrittenBefore: Date): Promise<number>;
}

/** Objects as files below one folder, which is made when missing. */
export async function diskStorage(directory: string): Promise<DiskStorage> {
  const root = resolve(directory);
  const temporaryDirectory = join(root, 'temporary');
  await mkdir(temporaryDirectory, { recursive: true, mode: 0o700 });
  const pathOf = (key: ObjectKey) => join(root, ...toObjectKey(key).split('/'));
  return {
    temporaryDirectory,
    put: (localPath, key) => putFile(root, temporaryDirectory, localPath, pathOf(key), digestOf(key)),
    open: (key) => openFile(pathOf(key)),
    has: async (key) => (await sizeOf(pathOf(key))) !== null,
    size: (key) => sizeOf(pathOf(key)),
    check: () => checkWritable(temporaryDirectory),
    sweepTemporary: (lastWrittenBefore) => sweep(temporaryDirectory, lastWrittenBefore),
  };
}

/**
 * Written anew even when the key is there: an earlier writer may have been stopped between its rename and the
 * folder's fsync, and only our own fsync makes the answer true.
 */
async function putFile(root: string, temporary: string, from: string, to: string, sha256: string) {
  const partial = join(temporary, `${randomUUID()}.part`);
  try {
    const found = await copyDurably(from, partial);
    if (found !== sha256) throw new Error(`content has SHA-256 ${found}, its key says ${sha256}`);
    await mkdir(dirname(to), { recursive: true, mode: 0o700 });
    await rename(partial, to);
  } catch (error) {
    await rm(partial, { force: true });
    throw error;
  }
  for (let folder = dirname(to); folder.length >= root.length; folder = dirname(folder))
    await syncFolder(folder);
}

/** Copies and answers the SHA-256 of what was written; the new file's bytes are on the disk when it returns. */
async function copyDurably(from: string, to: string): Promise<string> {
  await using source = await open(from, 'r');
  await using target = await open(to, 'wx', 0o600);
  const hash = createHash('sha256');
  const buffer = Buffer.allocUnsafe(256 * 1024);
  for (;;) {
    const { bytesRead } = await source.read(buffer, 0, buffer.length, null);
    if (bytesRead === 0) break;
    const chunk = buffer.subarray(0, bytesRead);
    hash.update(chunk);
    await target.writeFile(chunk);
  }
  await target.sync();
  return hash.digest('hex');
}

/** A rename lasts only once the folder that holds the name is on the disk too. Windows has no such call. */
async function syncFolder(path: string): Promise<void> {
  if (process.platform === 'win32') return;
  await using folder = await open(path, 'r');
  await folder.sync();
}

async function openFile(path: string): Promise<StoredObject | null> {
  try {
    const file = await open(path, 'r');
    const { size } = await file.stat();
    return { stream: file.createReadStream(), bytes: size };
  } catch (error) {
    if (isMissing(error)) return null;
    throw error;
  }
}

async function sizeOf(path: string): Promise<number | null> {
  try {
    return (await stat(path)).size;
  } catch (error) {
    if (isMissing(error)) return null;
    throw error;
  }
}

async function checkWritable(temporary: string): Promise<Result<void>> {
  const probe = join(temporary, `${randomUUID()}.probe`);
  try {
    await using file = await open(probe, 'wx', 0o600);
    await file.writeFile('writable');
    return ok(undefined);
  } catch {
    return refuse(
      'unavailable',
      'The photo storage takes no files: check that its disk is there and has room.',
    );
  } finally {
    await rm(probe, { force: true });
  }
}

async function sweep(temporary: string, lastWrittenBefore: Date): Promise<number> {
  let removed = 0;
  for (const entry of await readdir(temporary, { withFileTypes: true })) {
    if (!entry.isFile()) continue;
    const path = join(temporary, entry.name);
    const found = await stat(path).catch(() => null);
    if (found === null || found.mtimeMs >= lastWrittenBefore.getTime()) continue;
    await rm(path, { force: true });
    removed += 1;
  }
  return removed;
}

function isMissing(error: unknown): boolean {
  return error instanceof Error && 'code' in error && error.code === 'ENOENT';
}
