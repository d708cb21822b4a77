import { buffer } from 'node:stream/consumers';
import { unzipSync } from 'fflate';
import { expect, test } from 'vitest';
import { type ZipFile, zipOf } from './zip.ts';

const pieces = [Buffer.from('one '), Buffer.alloc(70_000, 7), Buffer.from('last')];
const files: readonly ZipFile[] = [
  { name: 'a.txt', open: () => [Buffer.from('hello')] },
  { name: 'empty', open: () => [] },
  { name: 'photos/Größe 2.jpg', open: () => pieces },
];

test('fflate, another program, reads the same files back', async () => {
  const read = unzipSync(new Uint8Array(await buffer(zipOf(files))));
  expect(Object.keys(read)).toEqual(['a.txt', 'empty', 'photos/Größe 2.jpg']);
  expect(Buffer.from(read['a.txt'] ?? []).toString()).toBe('hello');
  expect(Buffer.from(read['photos/Größe 2.jpg'] ?? [])).toEqual(Buffer.concat(pieces));
});

test('the same files make the same bytes', async () => {
  expect(await buffer(zipOf(files))).toEqual(await buffer(zipOf(files)));
});

// 3610a686 is what Python’s zlib.crc32 and POSIX gzip give for the five letters “hello”.
test('each file’s CRC-32 stands before it', async () => {
  const made = await buffer(zipOf(files));
  expect(made.readUInt32LE(0)).toBe(0x04034b50);
  expect(made.readUInt32LE(14)).toBe(0x3610a686);
});

test('a file that changes while it is archived stops the archive', async () => {
  let opened = 0;
  const changing: ZipFile = { name: 'a', open: () => [Buffer.from('x'.repeat(++opened))] };
  await expect(buffer(zipOf([changing]))).rejects.toThrow('a changed while it was archived');
});
