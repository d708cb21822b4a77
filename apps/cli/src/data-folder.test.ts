import { mkdtemp, stat, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { makeDataFolder } from './data-folder.ts';

const sentenceFor = async (folder: string) => {
  const made = await makeDataFolder(folder);
  return made.ok ? 'made' : made.problem.detail;
};

test('the data folder is made with those above it', async () => {
  const folder = join(await mkdtemp(join(tmpdir(), 'grainwright-')), 'a', 'b');
  expect(await sentenceFor(folder)).toBe('made');
  expect((await stat(folder)).isDirectory()).toBe(true);
  expect(await sentenceFor(folder)).toBe('made');
});

test.skipIf(process.platform !== 'linux')('no data folder is asked for where nothing stays', async () => {
  expect(await sentenceFor('/proc/grainwright/data')).toContain('/proc is not on a disk');
  expect(await sentenceFor('/sys/grainwright')).toContain('/sys is not on a disk');
});

test('a file in the way is named', async () => {
  const file = join(await mkdtemp(join(tmpdir(), 'grainwright-')), 'file');
  await writeFile(file, '');
  expect(await sentenceFor(join(file, 'data'))).toContain(`${file} is no folder`);
});
