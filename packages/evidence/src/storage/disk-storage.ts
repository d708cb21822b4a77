import { createHash, randomUUID } from 'node:crypto';
import { link, mkdir, open, readdir, rename, rm, stat } from 'node:fs/promises';
import { dirname, join, resolve } from 'node:path';
import { ok, type Result, refuse, type TenantId } from '@grainwright/domain';
import { digestOf, isObjectKey, type ObjectKey, toObjectKey } from './object-key.ts';
import type { ByteRange, ListedObject, ObjectStore, StoredObject } from './storage.ts';

export interface DiskStorage extends ObjectStore {
  /** For files on their way in, on the same file system as the objects; swept by `sweepTemporary`. */
  readonly temporaryDirectory: string;
  /**
   * Removes temporary files last written before a moment, and answers how many. Run it at start, with a moment
   * far enough back that another process sharing the disk is not in the middle of one. Objects that a stopped process
   * had taken aside go back under their keys, whatever their age.
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
    openRange: (key, range) => openFile(pathOf(key), range),
    has: async (key) => (await sizeOf(pathOf(key))) !== null,
    size: (key) => sizeOf(pathOf(key)),
    remove: (key, { unlessWrittenSince = null } = {}) =>
      removeFile(pathOf(key), asideOf(temporaryDirectory, key), unlessWrittenSince),
    list: (tenantId) => listFiles(root, tenantId),
    check: () => checkWritable(temporaryDirectory),
    sweepTemporary: async (lastWrittenBefore) => {
      for (const name of await readdir(temporaryDirectory)) {
        const key = keyOfAside(name);
        if (key !== null)
          await putBack(join(temporaryDirectory, name), asideOf(temporaryDirectory, key), pathOf(key));
      }
      return sweep(temporaryDirectory, lastWrittenBefore);
    },
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

async function openFile(path: string, range?: ByteRange): Promise<StoredObject | null> {
  try {
    const file = await open(path, 'r');
    if (range !== undefined) {
      const { first, last } = range;
      return { stream: file.createReadStream({ start: first, end: last }), bytes: last - first + 1 };
    }
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

/** Where an object is taken aside: the name tells its key, for a start after a process was stopped there. */
function asideOf(temporary: string, key: ObjectKey): string {
  return join(temporary, `${key.replaceAll('/', '+')}+${randomUUID()}.gone`);
}

function keyOfAside(name: string): ObjectKey | null {
  if (!name.endsWith('.gone')) return null;
  const key = name.split('+').slice(0, -1).join('/');
  return isObjectKey(key) ? key : null;
}

/**
 * What was put again lately is not touched. Else it is taken aside first: whatever is put under the name from then on is
 * another file and stays. What turns out to have been put again in between goes back, unless somebody put it yet again.
 */
async function removeFile(path: string, aside: string, unlessWrittenSince: Date | null): Promise<boolean> {
  try {
    if (await isFresh(path, unlessWrittenSince)) return false;
    await rename(path, aside);
  } catch (error) {
    if (isMissing(error)) return false;
    throw error;
  }
  const goesBack = await isFresh(aside, unlessWrittenSince);
  if (goesBack) await linkUnlessThere(aside, path);
  await syncFolder(dirname(path));
  // Throws where a process that starts just now has put it back: it did not go.
  await rm(aside);
  return !goesBack;
}

async function isFresh(path: string, since: Date | null): Promise<boolean> {
  return since !== null && (await stat(path)).mtime.getTime() >= since.getTime();
}

async function linkUnlessThere(from: string, to: string): Promise<void> {
  await link(from, to).catch((error: unknown) => {
    if (!isThere(error)) throw error;
  });
}

/** Claimed by another name first, so that a process that is just removing it learns of it. */
async function putBack(aside: string, claimed: string, path: string): Promise<void> {
  try {
    await rename(aside, claimed);
  } catch (error) {
    if (isMissing(error)) return;
    throw error;
  }
  await mkdir(dirname(path), { recursive: true, mode: 0o700 });
  await linkUnlessThere(claimed, path);
  await syncFolder(dirname(path));
  await rm(claimed);
}

async function* listFiles(root: string, tenantId: TenantId): AsyncIterable<ListedObject> {
  const own = join(root, 'tenant', tenantId);
  for (const kind of await namesIn(own))
    for (const shard of await namesIn(join(own, kind)))
      for (const name of await namesIn(join(own, kind, shard))) {
        const key = `tenant/${tenantId}/${kind}/${shard}/${name}`;
        const found = await stat(join(own, kind, shard, name)).catch(() => null);
        if (found?.isFile() && isObjectKey(key)) yield { key, bytes: found.size, writtenAt: found.mtime };
      }
}

async function namesIn(folder: string): Promise<readonly string[]> {
  try {
    return await readdir(folder);
  } catch (error) {
    if (isMissing(error) || (error instanceof Error && 'code' in error && error.code === 'ENOTDIR'))
      return [];
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

function isThere(error: unknown): boolean {
  return error instanceof Error && 'code' in error && error.code === 'EEXIST';
}
