import { expect, test } from 'vitest';
import { damageWords } from './damage.ts';

test('damage is told as what, which part, which side', () => {
  expect(damageWords({ kind: 'cut_or_tear', part: 'front_door_panel', position: 'left' })).toBe(
    'Cut or tear, front door panel, left',
  );
  expect(damageWords({ kind: 'wrinkle', part: 'tailgate_lining', position: null })).toBe(
    'Wrinkle or lifted material, tailgate lining',
  );
});
