import { expect, test } from 'vitest';
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
    'e'.repeat(64),
    '/verify',
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
    'Approval',
    'Acceptance',
    'How to check this',
    'Seals',
    'Pictures',
  ]);
  for (const row of all('TR')) expect(elementsOf(row, 'TH').length).toBeGreaterThan(0);
  expect(all('Figure').map(({ alt }) => alt)).toEqual([
    'Picture 1, Cut or tear, tailgate lining: before, Aug 5, 2026, 09:12 by the camera',
    'Picture 4, Cut or tear, tailgate lining: after, Aug 5, 2026, 09:12 by the camera',
    'Picture 2, Cut or tear, tailgate lining: after heat, Aug 5, 2026, 09:12 by the camera',
    'Signature of Orrin Vasek',
  ]);
});

test('everything stands within the margins, on Letter and on A4, and one repair needs no more than three pages', async () => {
  for (const size of ['letter', 'a4'] as const) {
    const { pages } = await readPdf(await evidencePackPdf(sampleEvidence({ size })));
    expect(pages.length).toBeLessThanOrEqual(3);
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
