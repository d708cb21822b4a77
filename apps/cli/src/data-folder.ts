import { access, constants, mkdir, stat, statfs } from 'node:fs/promises';
import { dirname, resolve } from 'node:path';
import { ok, type Result, refuse } from '@grainwright/domain';

/**
 * Makes the data folder. What is nearest to it and there already must be a folder that may be written to, on a disk:
 * under /proc and /sys a folder can be asked for, but nothing stays. Refuses with `unavailable`.
 */
export async function makeDataFolder(folder: string): Promise<Result<void>> {
  const cant = (why: string) =>
    refuse(
      'unavailable',
      `The data folder ${folder} can’t be made (${why}). Set DATA_DIR to a folder you may write to.`,
    );
  try {
    const nearest = await nearestThere(resolve(folder));
    if (!(await stat(nearest)).isDirectory()) return cant(`${nearest} is no folder`);
    if (notOnDisk.has((await statfs(nearest)).type)) return cant(`${nearest} is not on a disk`);
    await access(nearest, constants.W_OK);
    await mkdir(folder, { recursive: true, mode: 0o755 });
    return ok(undefined);
  } catch (error) {
    return cant(error instanceof Error && 'code' in error ? String(error.code) : String(error));
  }
}

/** proc and sysfs, by the numbers that statfs(2) lists. */
const notOnDisk: ReadonlySet<number> = new Set([0x9fa0, 0x62656572]);

async function nearestThere(path: string): Promise<string> {
  const found = await stat(path).then(
    () => true,
    () => false,
  );
  return found || dirname(path) === path ? path : nearestThere(dirname(path));
}
