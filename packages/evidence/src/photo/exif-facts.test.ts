import piexif from 'piexif-ts';
import { expect, test } from 'vitest';
import { scratchDirectory } from '../scratch-directory.test-support.ts';
import { sharp } from './image-engine.ts';
import { inspectPhoto } from './inspect-photo.ts';
import { filesIn, sample } from './photo-fixtures.ts';

// EXIF by an independent writer, piexif-ts, by tag numbers of Exif 2.32 §4.6.4 to §4.6.6.
const file = filesIn(await scratchDirectory());
const tag = {
  make: 0x010f,
  model: 0x0110,
  orientation: 0x0112,
  software: 0x0131,
  artist: 0x013b,
  copyright: 0x8298,
  takenAt: 0x9003,
  offset: 0x9011,
  latitudeRef: 1,
  latitude: 2,
  longitudeRef: 3,
  longitude: 4,
};

async function written(name: string, exif: Parameters<typeof piexif.dump>[0]) {
  const plain = (
    await sharp(await sample().png().toBuffer())
      .jpeg()
      .toBuffer()
  ).toString('latin1');
  const path = await file(name, Buffer.from(piexif.insert(piexif.dump(exif), plain), 'latin1'));
  const found = await inspectPhoto(path);
  if (!found.ok) throw new Error(found.problem.detail);
  return found.value;
}

test('date, offset, position, orientation and camera are read as another program wrote them', async () => {
  const facts = await written('phone.jpg', {
    '0th': { [tag.make]: 'Example', [tag.model]: 'Phone 2', [tag.orientation]: 6 },
    Exif: { [tag.takenAt]: '2026:08:05 14:03:09', [tag.offset]: '-05:00' },
    // 41°29′57.12″ S, 174°46′1.5″ E.
    GPS: {
      [tag.latitudeRef]: 'S',
      [tag.latitude]: [
        [41, 1],
        [29, 1],
        [5712, 100],
      ],
      [tag.longitudeRef]: 'E',
      [tag.longitude]: [
        [174, 1],
        [46, 1],
        [15, 10],
      ],
    },
  });
  expect(facts).toMatchObject({
    takenAtLocal: '2026-08-05T14:03:09',
    takenAtOffset: '-05:00',
    orientation: 6,
    width: 300,
    height: 400,
    camera: 'Example Phone 2',
  });
  expect(facts.position?.latitude).toBeCloseTo(-(41 + 29 / 60 + 57.12 / 3600), 6);
  expect(facts.position?.longitude).toBeCloseTo(174 + 46 / 60 + 1.5 / 3600, 6);
  expect(facts.exif).toMatchObject({ Make: 'Example', Orientation: '6', GPSLatitudeRef: 'S' });
  expect(Number(facts.exif?.latitude)).toBeCloseTo(-41.4992, 4);
});

test('EXIF full of script is words like any others: printable, and no more of it than fits', async () => {
  const script = '<script>alert("x")</script>';
  const facts = await written('script.jpg', {
    '0th': {
      [tag.make]: `${script}\x07\x1b[31m`,
      [tag.model]: "'; drop table photos; --",
      [tag.software]: `${script}`.repeat(500),
      [tag.artist]: '\u202eevil',
      [tag.copyright]: '\x01\x02',
    },
    Exif: { [tag.takenAt]: '<b>2026:08:05</b>' },
  });
  expect(facts.takenAtLocal).toBeUndefined();
  expect(facts.exif?.Make).toBe(`${script}[31m`);
  expect(facts.exif?.Software).toBe(script.repeat(500).slice(0, 200));
  expect(facts.exif).not.toHaveProperty('Copyright');
  expect(Object.values(facts.exif ?? {}).join('')).not.toMatch(/[\p{Cc}\p{Cf}]/u);
  expect(JSON.stringify(facts.exif).length).toBeLessThan(60 * 250);
  expect(facts.camera?.length).toBeLessThanOrEqual(100);
});
