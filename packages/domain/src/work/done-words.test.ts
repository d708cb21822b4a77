import { expect, test } from 'vitest';
import { doneWords } from './done-words.ts';

test('a repair says what was wrong and the steps, in words', () => {
  const line = {
    name: 'Cut or tear, tailgate lining',
    family: 'Vinyl cut or tear',
    repairsDamage: true,
    methods: ['fill_cut', 'cold_grain'],
  } as const;
  expect(doneWords(line)).toBe('Cut or tear, tailgate lining: repaired. Steps: fill the cut, cold graining.');
});

// Common practice, no source.
test('steps stand in the order of work, whatever order they were ticked in', () => {
  const name = 'Burn, quarter trim, left';
  const methods = [
    'adjust_sheen',
    'spray_color',
    'cold_grain',
    'sand',
    'fill_cut',
    'heat_flatten',
    'cut_out',
    'mask',
    'degrease',
  ] as const;
  expect(doneWords({ name, family: 'Burn', repairsDamage: true, methods })).toBe(
    'Burn, quarter trim, left: repaired. Steps: degrease, mask, cut all loose material away, lay down by heat, fill the cut, sand, cold graining, spray color, adjust the sheen.',
  );
});

test('work that mends no damage is named for itself', () => {
  const name = 'Trim off and on, quarter trim, right';
  expect(doneWords({ name, family: 'Trim off and on', repairsDamage: false, methods: [] })).toBe(
    'Trim off and on, quarter trim, right.',
  );
  expect(doneWords({ name: 'Color mix', family: 'Color mix', repairsDamage: false, methods: [] })).toBe(
    'Color mix.',
  );
});
