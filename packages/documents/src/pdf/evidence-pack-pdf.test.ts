import { expect, test } from 'vitest';
import type { EvidenceLine } from './evidence-pack-model.ts';
import { evidencePackPdf } from './evidence-pack-pdf.ts';
import { elementsOf, readPdf } from './read-pdf.ts';
import { sampleEvidence } from './sample-evidence.ts';

test('it reads from the business to how it is checked, with every figure', async () => {
  const { heard, title, language } = await readPdf(await evidencePackPdf(sampleEvidence()));
  expect([title, language]).toEqual(['Evidence of WO-1004, Bluegate Glass & Trim', 'en-US']);
  const words = heard.join('\n');
  const order = [
    'Seamline Interior Repair',
    'Evidence WO-1004',
    'Bluegate Glass & Trim',
    '2025 Ostra Vela',
    '0AAAAAA10SA000001',
    'Cut or tear, 2.2 in.',
    'Taken again, instead of picture 3.',
    'Kept, because: the lamp was out.',
    '2 more pictures are in the archive.',
    '$165.75',
    'declined: sold as it is',
    'not billed',
    '$284.90',
    '$656.57 less, 69.8 % saved',
    'Nadia Corrigan',
    'Orrin Vasek, vehicle’s owner',
    '/verify',
    'e'.repeat(64),
    'c'.repeat(64),
    'a'.repeat(64),
  ];
  const places = order.map((each) => words.indexOf(each));
  expect(places.every((place, index) => place > (places[index - 1] ?? -1))).toBe(true);
});

test('headings skip no level, every table names its rows, and pictures and the signature are told in words', async () => {
  const { pages } = await readPdf(await evidencePackPdf(sampleEvidence()));
  const all = (role: string) => pages.flatMap((page) => elementsOf(page.root, role));
  expect(all('H1').map(({ text }) => text)).toEqual(['Evidence WO-1004']);
  expect(all('H2').map(({ text }) => text)).toEqual([
    '2025 Ostra Vela',
    'Cut or tear, tailgate lining',
    'Wrinkle or lifted material, tailgate lining',
    'What was approved, and for how much',
    'Approval, seal 7',
    'Acceptance, seal 9',
    'How to check this',
    'Digests',
  ]);
  for (const row of all('TR')) expect(elementsOf(row, 'TH').length).toBeGreaterThan(0);
  expect(all('Figure').map(({ alt }) => alt)).toEqual([
    'Picture 1, Cut or tear, tailgate lining: before, Aug 5, 2026, 9:12 AM by the camera',
    'Picture 4, Cut or tear, tailgate lining: after, Aug 5, 2026, 9:12 AM by the camera',
    'Picture 2, Cut or tear, tailgate lining: after heat, Aug 5, 2026, 9:12 AM by the camera',
    'Signature of Orrin Vasek',
  ]);
});

test('everything stands within the margins, on Letter and on A4, and a repair of two lines needs two pages', async () => {
  for (const size of ['letter', 'a4'] as const) {
    const { pages } = await readPdf(await evidencePackPdf(sampleEvidence({ size })));
    expect([size, pages.length]).toEqual([size, 2]);
    for (const {
      texts,
      size: [width],
    } of pages)
      for (const { x, width: textWidth } of texts) {
        expect(x).toBeGreaterThanOrEqual(47.9);
        expect(x + textWidth).toBeLessThanOrEqual(width - 47.9);
      }
  }
});

test('pictures before and after stand beside each other in one size, and so do all the others of the document', async () => {
  const { pages } = await readPdf(await evidencePackPdf(sampleEvidence()));
  const [before, after, ...others] = pages.flatMap(({ images }) => images);
  expect(others).toHaveLength(1);
  expect(after?.y).toBeCloseTo(before?.y ?? 0, 3);
  for (const each of [after, ...others]) {
    expect(each?.width).toBeCloseTo(before?.width ?? 0, 3);
    expect(each?.height).toBeCloseTo(before?.height ?? 0, 3);
  }
  expect(after?.x).toBeGreaterThan((before?.x ?? 0) + (before?.width ?? 0));
});

test('pictures are as large as the fewest pages allow', async () => {
  const [line] = sampleEvidence().lines;
  if (line === undefined) throw new Error('the sample has a line');
  const widthOf = async (lines: readonly EvidenceLine[]) => {
    const { pages } = await readPdf(await evidencePackPdf(sampleEvidence({ lines })));
    return [pages.length, Math.round(pages[0]?.images[0]?.width ?? 0)];
  };
  // Letter has 516 points between its margins; 9 lie between pictures: two, three and four beside each other.
  expect(await widthOf([{ ...line, pictures: line.pictures.slice(0, 2) }])).toEqual([2, 254]);
  expect(await widthOf([line, { ...line, pictures: line.pictures.slice(0, 3) }])).toEqual([2, 122]);
});

test('two lines of four pictures each, the walk-around, all that was signed and ten digests fill two pages', async () => {
  const { lines, proof, answers } = sampleEvidence();
  const [line] = lines;
  const [first] = line?.pictures ?? [];
  const [approval, acceptance] = answers;
  if (!line || !first || !approval || !acceptance) throw new Error('the sample has these');
  const signed = 'I was shown the repair listed here, on the vehicle or in the pictures. '.repeat(8).trim();
  const model = {
    lines: [line, line].map((each) => ({
      ...each,
      furtherPictures: 0,
      pictures: each.pictures.map((picture) => ({ ...picture, bytes: first.bytes, notes: [] })),
    })),
    vehiclePictures: [{ ...first, number: 9, purpose: 'Walk-around' }],
    answers: [approval, { ...acceptance, answered: [{ term: 'Words signed', value: signed }] }],
    proof: {
      ...proof,
      pictures: Array.from({ length: 9 }, (_, index) => ({
        ...{ number: index + 1, words: 'before', sha256: String(index).repeat(64) },
      })),
    },
  };
  for (const size of ['letter', 'a4'] as const) {
    const { pages } = await readPdf(await evidencePackPdf(sampleEvidence({ ...model, size })));
    expect([size, pages.length]).toEqual([size, 2]);
    expect(pages[0]?.images).toHaveLength(9);
    expect(new Set(pages[0]?.images.map(({ width }) => Math.round(width))).size).toBe(1);
  }
});

test('the same model gives the same bytes', async () => {
  expect(Buffer.from(await evidencePackPdf(sampleEvidence()))).toEqual(
    Buffer.from(await evidencePackPdf(sampleEvidence())),
  );
});

test('prices that do not add up are refused', async () => {
  const { prices } = sampleEvidence();
  if (prices === null) throw new Error('the sample has prices');
  const wrong = sampleEvidence({ prices: { ...prices, totalMinor: 28491n } });
  await expect(evidencePackPdf(wrong)).rejects.toThrow('the parts come to 28490, not to 28491');
});
