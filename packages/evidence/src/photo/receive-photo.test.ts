import { mkdir, readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { PassThrough, Readable } from 'node:stream';
import { expect, test } from 'vitest';
import { scratchDirectory } from '../scratch-directory.test-support.ts';
import { receivePhoto } from './receive-photo.ts';

const scratch = await scratchDirectory();

async function emptyDirectory(name: string): Promise<string> {
  const directory = join(scratch, name);
  await mkdir(directory);
  return directory;
}

function chunks(count: number, size: number): Readable {
  return Readable.from(Array.from({ length: count }, () => Buffer.alloc(size, 'a')));
}

test('an upload is on the disk as it came, with its digest and length', async () => {
  const directory = await emptyDirectory('whole');
  const received = await receivePhoto(Readable.from([Buffer.from('a'), Buffer.from('bc')]), {
    directory,
    maxBytes: 3,
  });
  if (!received.ok) throw new Error(received.problem.detail);
  expect(received.value.bytes).toBe(3);
  // FIPS 180-2 appendix B.1: the digest of "abc".
  expect(received.value.sha256).toBe('ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad');
  expect(await readFile(received.value.path, 'utf8')).toBe('abc');
});

test('an upload above the cap is refused with the cap in MB, read to its end, and leaves no file', async () => {
  const directory = await emptyDirectory('cap');
  const stream = chunks(40, 65_536);
  const received = await receivePhoto(stream, { directory, maxBytes: 1_500_000 });
  expect(received).toMatchObject({ ok: false, problem: { code: 'photo_too_large', field: 'photo' } });
  expect(!received.ok && received.problem.detail).toContain('1.5 MB');
  expect(stream.readableEnded).toBe(true);
  expect(await readdir(directory)).toEqual([]);
});

test('an upload that its parser cut short is refused, though what came was below the cap', async () => {
  const directory = await emptyDirectory('truncated');
  const stream = chunks(2, 1000);
  // As a multipart parser does: it knows only once the stream has been drained.
  const truncated = () => stream.readableEnded;
  const received = await receivePhoto(stream, { directory, maxBytes: 2_000_000, truncated });
  expect(received).toMatchObject({ ok: false, problem: { code: 'photo_too_large' } });
  expect(await readdir(directory)).toEqual([]);
});

test('an upload that fails half-way throws and leaves no file', async () => {
  const directory = await emptyDirectory('failing');
  const stream = Readable.from(
    (async function* () {
      yield Buffer.alloc(100_000);
      throw new Error('connection lost');
    })(),
  );
  await expect(receivePhoto(stream, { directory, maxBytes: 1e6 })).rejects.toThrow('connection lost');
  expect(await readdir(directory)).toEqual([]);
});

test('an upload whose sender goes away throws and leaves no file', async () => {
  const directory = await emptyDirectory('aborted');
  const stream = new PassThrough();
  const receiving = receivePhoto(stream, { directory, maxBytes: 1e6 });
  stream.write(Buffer.alloc(10_000), () => stream.destroy());
  await expect(receiving).rejects.toThrow(/premature close/i);
  expect(await readdir(directory)).toEqual([]);
});
