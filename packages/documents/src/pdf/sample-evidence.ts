import { day } from '@grainwright/domain';
import type {
  EvidenceAnswer,
  EvidenceLine,
  EvidencePackModel,
  EvidencePicture,
  EvidencePrices,
  EvidenceProof,
} from './evidence-pack-model.ts';
import { jpeg } from './sample-models.ts';

const digest = (letter: string) => letter.repeat(64);

function picture(number: number, purpose: string, changes: Partial<EvidencePicture> = {}): EvidencePicture {
  return { number, purpose, bytes: jpeg, taken: 'Aug 5, 2026, 9:12 AM by the camera', notes: [], ...changes };
}

const cut: EvidenceLine = {
  name: 'Cut or tear, tailgate lining',
  facts: [
    { term: 'Damage', value: 'Cut or tear, 2.2 in.' },
    { term: 'Done', value: 'Cut or tear, tailgate lining: repaired. Steps: cold grain.' },
  ],
  pictures: [
    picture(1, 'Before'),
    picture(4, 'After', { notes: ['Taken again, instead of picture 3.'] }),
    picture(2, 'After heat', {
      notes: ['Noticed when it came in: dark.', 'Kept, because: the lamp was out.'],
    }),
    picture(3, 'After', { bytes: null, notes: ['Taken again as picture 4.'] }),
  ],
  furtherPictures: 2,
};

const wrinkle: EvidenceLine = {
  name: 'Wrinkle or lifted material, tailgate lining',
  facts: [{ term: 'Done', value: 'Laid down.' }],
  pictures: [],
  furtherPictures: 0,
};

const prices: EvidencePrices = {
  currency: 'USD',
  rows: [
    { words: cut.name, answer: 'approved', amountMinor: 16575n },
    { words: wrinkle.name, answer: 'approved', amountMinor: 7268n },
    { words: 'Scuff or scrape, sill trim', answer: 'declined: sold as it is', amountMinor: null },
    { words: 'Trip', answer: '', amountMinor: 4500n },
    { words: 'Tax', answer: '', amountMinor: 147n },
  ],
  totalMinor: 28490n,
  againstNewPart: [
    'A new part, fitted, was quoted at $940.00 before tax. The repair came to $283.43 before tax: $656.57 less, 69.8 % saved.',
  ],
};

const answers: readonly EvidenceAnswer[] = [
  {
    heading: 'Approval, seal 7',
    facts: [
      { term: 'By', value: 'Nadia Corrigan' },
      { term: 'Total', value: '$284.90' },
    ],
    signature: null,
    answered: [{ term: 'Estimate', value: `Version 1, ${digest('9')}` }],
  },
  {
    heading: 'Acceptance, seal 9',
    facts: [
      { term: 'Answer', value: 'Accepted.' },
      { term: 'By', value: 'Orrin Vasek, vehicle’s owner' },
    ],
    signature: { name: 'Orrin Vasek', path: 'M 10 40 L 60 8 L 80 44 L 140 12', viewBox: '0 0 150 50' },
    answered: [{ term: 'Words signed', value: 'I was shown the repair listed here.' }],
  },
];

const proof: EvidenceProof = {
  pictures: [
    { number: 1, words: `before, ${cut.name}`, sha256: digest('a') },
    { number: 2, words: `after heat, ${cut.name}`, sha256: digest('b') },
  ],
  picturesSealed: ['Under a seal: all pictures.'],
  seals: [
    { number: 7, words: 'approval, sealed Aug 5, 2026, 9:30 AM', sha256: digest('c') },
    { number: 9, words: 'acceptance, sealed Aug 5, 2026, 11:02 AM', sha256: digest('d') },
  ],
  day: { day: day('2026-08-05'), root: digest('e'), sha256: digest('f') },
  keyId: digest('0'),
  howToCheck: ['Open https://repairs.example.com/verify and choose the archive.'],
};

/** The tailgate lining of scenario (a): 165.75, 72.68, trip 45.00 and tax 1.47 come to 284.90. */
export function sampleEvidence(changes: Partial<EvidencePackModel> = {}): EvidencePackModel {
  return {
    size: 'letter',
    seller: {
      name: 'Seamline Interior Repair',
      lines: ['14 Mill Street', 'Alder Falls, OH 44000', '555-0142', 'office@seamline.example'],
      logo: null,
    },
    buyer: { name: 'Bluegate Glass & Trim', lines: ['900 Harbor Road', 'Alder Falls, OH 44001'] },
    number: 'WO-1004',
    asOf: day('2026-08-05'),
    facts: [
      { term: 'Worked', value: 'Aug 5, 2026' },
      { term: 'Job number', value: 'BG-9107' },
    ],
    vehicle: { words: '2025 Ostra Vela', facts: [{ term: 'VIN', value: '0AAAAAA10SA000001' }] },
    lines: [cut, wrinkle],
    vehiclePictures: [],
    prices,
    answers,
    proof,
    ...changes,
  };
}
