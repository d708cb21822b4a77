import { createHash, randomBytes } from 'node:crypto';
import { deflateRawSync } from 'node:zlib';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { anArchive, inMemory, type MadeFile } from './any-archive.test-support.ts';
import { readArchive } from './read-archive.ts';

const text = (words: string) => Buffer.from(words, 'utf8');
const sha256 = (bytes: Uint8Array) => createHash('sha256').update(bytes).digest('hex');
const refusalOf = async (bytes: Uint8Array) => {
  const read = await readArchive(inMemory(bytes));
  return read.ok ? 'taken' : read.problem.detail;
};

test('every file is told by its length and digest, records by their words too', async () => {
  const large = randomBytes(3_000_000);
  const record = text('{"größe":"2.2 in"}');
  const archive = inMemory(
    anArchive([
      { name: 'photos/01-before.jpg', bytes: large },
      { name: 'a.json', bytes: deflateRawSync(record), method: 8, says: record.length },
    ]),
  );
  expect(await readArchive(archive)).toEqual({
    ok: true,
    value: [
      { name: 'photos/01-before.jpg', bytes: large.length, sha256: sha256(large), text: null },
      { name: 'a.json', bytes: record.length, sha256: sha256(record), text: '{"größe":"2.2 in"}' },
    ],
  });
  expect(archive.mostAtOnce()).toBeLessThanOrEqual(1 << 20);
});

test('an archive that packs its files smaller is read like one that does not', async () => {
  const bytes = text('the same words again and again. '.repeat(5_000));
  const packed = anArchive([{ name: 'a.txt', bytes: deflateRawSync(bytes), method: 8, says: bytes.length }]);
  expect(await readArchive(inMemory(packed))).toMatchObject({ ok: true, value: [{ sha256: sha256(bytes) }] });
});

const whole = anArchive([{ name: 'a.json', bytes: text('{}') }]);
const million = deflateRawSync(Buffer.alloc(1_000_000));
const one: MadeFile = { name: 'one', bytes: text('1234567890') };
const two: MadeFile = { name: 'two', bytes: text('12') };
/** APPNOTE.TXT 4.6.9: another name for the file, which other programs show. */
const otherName = Buffer.concat([Buffer.from([0x75, 0x70, 8, 0, 1, 0, 0, 0, 0]), text('two')]);

/** Two archives of the same form in one; the end record names the first, other programs take the second. */
function doubled(): Uint8Array {
  const [genuine, forged] = [anArchive([one]), anArchive([{ ...one, bytes: text('0987654321') }])];
  return Buffer.concat([genuine.subarray(0, -22), forged.subarray(0, -22), genuine.subarray(-22)]);
}

/** One whose file is told longer than it is, in its header and in the directory. */
function reachesOn(): Uint8Array {
  const bytes = anArchive([one]);
  for (const at of [18, 22, 43 + 20, 43 + 24]) bytes[at] = 11;
  return bytes;
}

/** One whose header, not its directory, says something else at this place. */
function headerSays(at: number): Uint8Array {
  const bytes = anArchive([one]);
  bytes[at] = (bytes[at] ?? 0) ^ 1;
  return bytes;
}

test.each<[string, Uint8Array, string]>([
  ['nothing', new Uint8Array(), 'Its end is missing'],
  ['what is no archive', randomBytes(5_000), 'Its end is missing'],
  ['one cut off by a byte', whole.subarray(0, -1), 'Its end is missing'],
  ['one cut off in the middle', whole.subarray(0, 20), 'Its end is missing'],
  ['one with its beginning gone', whole.subarray(10), 'points outside of it'],
  ['a file that leads out of it', anArchive([{ ...one, name: '../one' }]), 'leads out of the archive'],
  ['a file with a full path', anArchive([{ ...one, name: '/etc/one' }]), 'leads out of the archive'],
  ['a file named with a backslash', anArchive([{ ...one, name: 'a\\one' }]), 'leads out of the archive'],
  ['one name twice', anArchive([one, one]), 'holds “one” twice'],
  ['files over each other', anArchive([one, { ...two, at: 5 }]), 'lies over another file'],
  ['an encrypted file', anArchive([{ ...one, flags: 1 }]), 'is encrypted'],
  ['a file packed otherwise', anArchive([{ ...one, method: 12 }]), 'packed in a way that a pack never is'],
  ['a header in another place', anArchive([{ ...one, at: 3 }]), 'Before “one” lies something'],
  ['a file that reaches into the directory', reachesOn(), 'goes on behind its end'],
  ['two directories', doubled(), 'between its directory and its end'],
  ['a remark at the end', anArchive([one], 'a remark'), 'added behind its end'],
  ['a hidden file between', anArchive([{ ...two, hidden: true }, one]), 'Before “one” lies something'],
  [
    'a hidden file at last',
    anArchive([one, { ...two, hidden: true }]),
    'Before its directory lies something',
  ],
  ['another name in an extra field', anArchive([{ ...one, extra: otherName }]), 'has extra fields'],
  ['a folder', anArchive([{ name: 'photos/', bytes: text('') }]), 'is a folder of its own'],
  ['another length in its header', headerSays(22), 'not where or what the archive’s directory says'],
  ['another name in its header', headerSays(31), 'not where or what the archive’s directory says'],
  ['a length of its own', anArchive([{ ...one, says: 11 }]), 'two different lengths'],
  ['ZIP64', anArchive([{ ...one, method: 8, says: 0xffffffff }]), 'ZIP64'],
  ['a bomb that says so', anArchive([{ ...one, method: 8, says: 4_000_000_000 }]), 'It was not unpacked'],
  ['a bomb that hides it', anArchive([{ name: 'b', bytes: million, method: 8, says: 10 }]), 'another length'],
  ['what does not unpack', anArchive([{ ...one, method: 8, says: 10 }]), 'can’t be unpacked'],
])('%s is refused, and said in plain words', async (_what, bytes, words) => {
  expect(await refusalOf(bytes)).toContain(words);
});

test('a bomb is stopped where it passes what it said, long before it is unpacked', async () => {
  const bomb = deflateRawSync(Buffer.alloc(100_000_000), { level: 1 });
  const archive = anArchive([{ name: 'b.json', bytes: bomb, method: 8, says: 1_000 }]);
  const file = inMemory(archive);
  let piecesRead = 0;
  const read = await readArchive({
    bytes: file.bytes,
    read: (start, end) => {
      piecesRead += end - start === 65_536 ? 1 : 0;
      return file.read(start, end);
    },
  });
  expect(read).toMatchObject({ ok: false });
  expect(bomb.length).toBeGreaterThan(5 * 65_536);
  expect(piecesRead).toBeLessThanOrEqual(3);
});

test('an archive of more files than a pack has is refused by its number alone', async () => {
  const bytes = anArchive([one]);
  Buffer.from(bytes.buffer).writeUInt16LE(60_000, bytes.length - 22 + 8);
  Buffer.from(bytes.buffer).writeUInt16LE(60_000, bytes.length - 22 + 10);
  expect(await refusalOf(bytes)).toContain('60000 files');
});

test('whatever byte of an archive is changed, reading it ends with an answer', async () => {
  const bytes = anArchive([one, { name: 'two.json', bytes: text('{"a":1}') }]);
  await fc.assert(
    fc.asyncProperty(fc.nat(bytes.length - 1), fc.integer({ min: 1, max: 255 }), async (at, by) => {
      const changed = new Uint8Array(bytes);
      changed[at] = (changed[at] ?? 0) ^ by;
      const read = await readArchive(inMemory(changed));
      expect(typeof read.ok).toBe('boolean');
    }),
    { numRuns: 300 },
  );
});
