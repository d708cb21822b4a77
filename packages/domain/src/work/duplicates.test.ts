import { expect, test } from 'vitest';
import { isSamePart, type PlacedLine } from './duplicates.ts';

const door: PlacedLine = { part: 'front_door_panel', side: 'left', repairsDamage: true };

// Common practice, no source: the same vehicle may come again for another part.
test.each<[string, Partial<PlacedLine>, boolean]>([
  ['the same part on the same side', {}, true],
  ['the same part without a side', { side: null }, true],
  ['the same part on the other side', { side: 'right' }, false],
  ['another part', { part: 'rear_door_panel' }, false],
  ['work that repairs no damage', { repairsDamage: false }, false],
])('%s', (_what, change, same) => {
  expect(isSamePart(door, { ...door, ...change })).toBe(same);
  expect(isSamePart({ ...door, ...change }, door)).toBe(same);
});
