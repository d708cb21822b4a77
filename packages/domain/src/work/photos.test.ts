import { expect, test } from 'vitest';
import { type LineId, toId } from '../ids.ts';
import {
  neededPhotos,
  type PhotoPurpose,
  type PhotoRule,
  type ProvedLine,
  photosStillToTake,
} from './photos.ts';

// Which are required is common practice by the kind of account, no published source: retail a walk-around, before and
// after; trade before, a proof and after; a lot before and after. What heat showed is seen before the cut is filled.

const wear: ProvedLine = {
  id: toId<LineId>('01980000-0000-7000-8000-000000000001'),
  label: 'Wear, seat bolster',
  repairsDamage: true,
  photos: [],
  damage: 'wear',
  material: 'leather',
  methods: [],
};
const cut: ProvedLine = {
  ...wear,
  id: toId<LineId>('01980000-0000-7000-8000-000000000002'),
  label: 'Cut or tear, tailgate lining',
  damage: 'cut_or_tear',
  material: 'foam_backed_vinyl',
};

const order = (rule: PhotoRule, lines: readonly ProvedLine[], vehicle: readonly PhotoPurpose[] = []) =>
  photosStillToTake(rule, vehicle, lines).map(({ label, purposes }) => `${purposes[0]} of ${label}`);

test('what proves the work is asked for before any picture of its end', () => {
  expect(order('trade', [wear, cut])).toEqual([
    'before of Wear, seat bolster',
    'before of Cut or tear, tailgate lining',
    'progress of Wear, seat bolster',
    'after_heat of Cut or tear, tailgate lining',
    'after of Wear, seat bolster',
    'after of Cut or tear, tailgate lining',
  ]);
});

test('a cut that only heat shows is pictured after heat, also where the account’s rule asks for no proof', () => {
  const photographed: ProvedLine = { ...cut, photos: ['before'] };
  for (const rule of ['lot', 'retail'] as const) {
    expect(order(rule, [photographed], ['walk_around'])).toEqual([
      'after_heat of Cut or tear, tailgate lining',
      'after of Cut or tear, tailgate lining',
    ]);
    expect(neededPhotos(rule, photographed)).toEqual([['after']]);
  }
  // Another proof is enough for the rule, and does not show what heat does.
  expect(order('trade', [{ ...photographed, photos: ['before', 'progress'] }])[0]).toContain('after_heat');
});

test('what can’t be seen any more is not asked for, unless the rule does', () => {
  const repaired: ProvedLine = { ...cut, photos: ['before', 'after'] };
  expect(order('lot', [repaired])).toEqual([]);
  expect(order('trade', [repaired])).toEqual(['progress of Cut or tear, tailgate lining']);
});

test('the likeliest proof comes first: what is cut out of urethane, else the work on its way', () => {
  const started: ProvedLine = { ...wear, photos: ['before'] };
  expect(order('trade', [{ ...started, material: 'urethane' }])[0]).toBe('cut_out of Wear, seat bolster');
  expect(order('trade', [{ ...started, methods: ['cut_out'] }])[0]).toBe('cut_out of Wear, seat bolster');
  expect(photosStillToTake('trade', [], [started])[0]?.purposes).toEqual([
    'progress',
    'after_heat',
    'cut_out',
    'ruler',
  ]);
});

test('the vehicle as it came is pictured first for retail; what repairs no damage needs nothing', () => {
  expect(order('retail', [wear])).toEqual([
    'walk_around of The vehicle as it came',
    'before of Wear, seat bolster',
    'after of Wear, seat bolster',
  ]);
  expect(order('trade', [{ ...wear, repairsDamage: false }])).toEqual([]);
});
