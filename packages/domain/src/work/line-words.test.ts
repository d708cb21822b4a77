import { expect, test } from 'vitest';
import { numberedNames } from './line-words.ts';

test('of several lines of one name each but the first has its number', () => {
  const cut = 'Cut or tear, tailgate lining';
  const names = numberedNames([cut, 'Scuff, carpet', cut, cut]);
  expect(names).toEqual([cut, 'Scuff, carpet', `${cut} (2)`, `${cut} (3)`]);
});
