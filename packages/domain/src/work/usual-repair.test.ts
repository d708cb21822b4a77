import { expect, test } from 'vitest';
import { type RepairBefore, usualRepair } from './usual-repair.ts';

// Common practice, no source: a repair is proposed as it was done last; the technician changes what differs.
const before: readonly RepairBefore[] = [
  { part: 'dash', material: 'foam_backed_vinyl', family: 'Dash crack', methods: ['fill_cut'] },
  { part: 'armrest', material: 'leather', family: 'Leather tear', methods: ['fill_cut', 'mask'] },
  { part: 'armrest', material: 'foam_backed_vinyl', family: 'Vinyl cut or tear', methods: ['heat_flatten'] },
];
const works = ['heat_flatten', 'fill_cut', 'cold_grain', 'spray_texture'] as const;

test('as it was done last on the same part of the same material', () => {
  const damage = { kind: 'cut_or_tear', part: 'armrest', material: 'foam_backed_vinyl', works } as const;
  expect(usualRepair(before, damage)).toEqual({ family: 'Vinyl cut or tear', methods: ['heat_flatten'] });
});

test('on another part where that part is new', () => {
  const damage = { kind: 'cut_or_tear', part: 'console', material: 'leather', works: [] } as const;
  expect(usualRepair(before, damage)).toEqual({ family: 'Leather tear', methods: ['fill_cut', 'mask'] });
});

test('where nothing of that material was done, no repair, and the methods that work on it', () => {
  const damage = { kind: 'cut_or_tear', part: 'dash', material: 'urethane', works } as const;
  expect(usualRepair(before, damage)).toEqual({ family: '', methods: [...works, 'mask'] });
  const unknown = { kind: 'burn', part: 'dash', material: null, works: [] } as const;
  expect(usualRepair([], unknown)).toEqual({ family: '', methods: [] });
});

test('nothing is filled that is not open', () => {
  const wrinkle = { kind: 'wrinkle', part: 'dash', material: 'tpu', works } as const;
  expect(usualRepair([], wrinkle).methods).toEqual(['heat_flatten', 'cold_grain', 'spray_texture', 'mask']);
});
