import { createHash } from 'node:crypto';
import exifr from 'exifr';
import { beforeAll, describe, expect, test } from 'vitest';
import { makeBareCopy } from './bare-copy.ts';
import { sharp } from './image-engine.ts';
import { cameraExif, sample } from './photo-fixtures.ts';

/** What cameras and programs write into a picture, by a writer of other people: the image library. */
const told = '<x:xmpmeta xmlns:x="adobe:ns:meta/">somebody’s home</x:xmpmeta>';

/** Everything but the picture's own bytes: so that a bare copy is looked through by another rule than it was made by. */
const tellTale =
  /Exif\0\0II|Exif\0\0MM.*GPS|Example Phone|2026:08:05|somebody|a comment|behind the end|xmpmeta/s;

async function pixelsOf(bytes: Uint8Array): Promise<string> {
  const raw = await sharp(bytes).autoOrient().raw().toBuffer();
  return createHash('sha256').update(raw).digest('hex');
}

const formats = ['jpeg', 'png', 'webp'] as const;

function tagged(format: (typeof formats)[number], orientation: number): Promise<Buffer> {
  return sample({ exif: cameraExif, orientation }).withXmp(told).withIccProfile('p3')[format]().toBuffer();
}

describe.each(formats)('of a %s', (format) => {
  const originals = new Map<number, Buffer>();
  beforeAll(async () => {
    for (const orientation of [1, 6, 8]) originals.set(orientation, await tagged(format, orientation));
  });
  const original = (orientation: number) => originals.get(orientation) ?? Buffer.alloc(0);

  test.each([1, 6, 8])(
    'held as %i, the picture and its colors are the same, upright',
    async (orientation) => {
      const bare = await makeBareCopy(original(orientation));
      const { icc, width, orientation: kept, format: kind } = await sharp(bare).metadata();
      expect([kind, kept ?? 1, width]).toEqual([format, orientation, 400]);
      expect(icc).toEqual((await sharp(original(orientation)).metadata()).icc);
      expect(await pixelsOf(bare)).toBe(await pixelsOf(original(orientation)));
    },
  );

  test.each([1, 6, 8])(
    'held as %i, nothing that was written beside the picture is left',
    async (orientation) => {
      expect(original(orientation).toString('latin1')).toMatch(tellTale);
      const bare = Buffer.from(await makeBareCopy(original(orientation)));
      expect(bare.toString('latin1')).not.toMatch(tellTale);
      const { xmp, exif } = await sharp(bare).metadata();
      expect(xmp).toBeUndefined();
      const tags = exif === undefined ? {} : await exifr.parse(tiffOf(exif), { translateValues: false });
      expect(tags).toEqual(orientation === 1 ? {} : { Orientation: orientation });
    },
  );

  test('the same original gives the same bytes, and a bare copy is its own bare copy', async () => {
    for (const orientation of [1, 6]) {
      const bare = await makeBareCopy(original(orientation));
      expect(await makeBareCopy(original(orientation))).toEqual(bare);
      expect(await makeBareCopy(bare)).toEqual(bare);
    }
  });

  test('what stands behind the picture’s end is not in it', async () => {
    const longer = Buffer.concat([original(6), Buffer.from('<html>behind the end</html>')]);
    expect(await makeBareCopy(longer)).toEqual(await makeBareCopy(original(6)));
  });

  test('a file that ends early, or whose parts do not fit together, gives none', async () => {
    const whole = original(1);
    for (const share of [0.3, 0.6, 0.9])
      await expect(makeBareCopy(whole.subarray(0, Math.floor(whole.length * share)))).rejects.toThrow();
  });
});

function tiffOf(block: Buffer): Buffer {
  return block.subarray(0, 4).toString('latin1') === 'Exif' ? block.subarray(6) : block;
}

/** The markers of a JPEG up to its first scan, walked through here by T.81 annex B.1.1.4 and no code of ours. */
function markersOf(jpeg: Uint8Array): readonly number[] {
  const found: number[] = [];
  const view = Buffer.from(jpeg);
  for (let at = 2; view[at] === 0xff && view[at + 1] !== 0xda; at += 2 + view.readUInt16BE(at + 2))
    found.push(view[at + 1] ?? 0);
  return found;
}

test('of a JPEG’s segments only those of the picture, JFIF, color profile and Adobe stay, the picture’s bytes as they were', async () => {
  const cmyk = await sharp(await sample().png().toBuffer())
    .toColourspace('cmyk')
    .withExif(cameraExif)
    .jpeg({ progressive: true })
    .toBuffer();
  const comment = Buffer.from('\xff\xfe\x00\x0ba comment', 'latin1');
  const vendors = Buffer.from('\xff\xe5\x00\x10somebody’s own'.slice(0, 18), 'latin1');
  const second = Buffer.from('\xff\xe2\x00\x08MPF\0aa', 'latin1');
  const crowded = Buffer.concat([cmyk.subarray(0, 2), comment, vendors, second, cmyk.subarray(2)]);
  const bare = await makeBareCopy(crowded);
  const application = markersOf(bare).filter((code) => code >= 0xe0 || code === 0xfe);
  expect(markersOf(crowded)).toEqual(expect.arrayContaining([0xfe, 0xe5, 0xe1, 0xee]));
  expect(application.every((code) => [0xe0, 0xe2, 0xee].includes(code))).toBe(true);
  expect(application).toContain(0xee);
  expect(Buffer.from(bare).toString('latin1')).not.toMatch(/MPF|somebody|a comment/);
  expect(await pixelsOf(bare)).toBe(await pixelsOf(crowded));
  const scan = cmyk.subarray(cmyk.indexOf(Buffer.from([0xff, 0xda])));
  expect(Buffer.from(bare).includes(scan)).toBe(true);
});

test('of a PNG’s chunks text, time and private ones go, and the rest is byte for byte the same', async () => {
  const plain = await sharp(await sample().png().toBuffer())
    .png()
    .toBuffer();
  const chunk = (type: string, text: string) => {
    const data = Buffer.from(text, 'latin1');
    const length = Buffer.alloc(4);
    length.writeUInt32BE(data.length);
    // A wrong check is no reason to keep it.
    return Buffer.concat([length, Buffer.from(type, 'latin1'), data, Buffer.alloc(4)]);
  };
  const crowded = Buffer.concat([
    plain.subarray(0, 33),
    ...['tEXt', 'zTXt', 'iTXt', 'prVt'].map((type) => chunk(type, 'somebody was here')),
    chunk('tIME', '\x07\xea\x08\x05\x0e\x03\x09'),
    plain.subarray(33),
  ]);
  expect(Buffer.from(await makeBareCopy(crowded))).toEqual(Buffer.from(await makeBareCopy(plain)));
  expect(Buffer.from(await makeBareCopy(crowded)).toString('latin1')).not.toMatch(/somebody|tIME/);
});
