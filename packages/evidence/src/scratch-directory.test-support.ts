import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll } from 'vitest';

/** A folder for one test file, removed when its tests are over. */
export async function scratchDirectory(): Promise<string> {
  const path = await mkdtemp(join(tmpdir(), 'grainwright-evidence-'));
  afterAll(() => rm(path, { recursive: true, force: true }));
  return path;
}
