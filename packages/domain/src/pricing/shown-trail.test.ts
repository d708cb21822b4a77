import { expect, test } from 'vitest';
import { shownCode, shownTrail } from './shown-trail.ts';

// Trails as earlier versions stored them.
test.each([
  ['priced by hand: odd shape → 120.00', 'price for this repair 120.00'],
  [
    'priced by hand: odd shape → 120.00, first repair 100 % → 120.00',
    'price for this repair 120.00, first repair 100 % → 120.00',
  ],
  [
    'priced by hand: list 195.00 → 150.00, a friend → 120.00, further repair 90 % → 108.00',
    'price for this repair 120.00, further repair 90 % → 108.00',
  ],
  ['priced by hand: list 195.00 → 150.00, for a friend → 120.00', 'price for this repair 120.00'],
  [
    'priced by hand: odd → 45.00, no further-repair discount → 45.00',
    'price for this repair 45.00, no further-repair discount → 45.00',
  ],
  [
    'priced by hand: two\nlines → 1200.50, rework without charge → 0.00',
    'price for this repair 1200.50, rework without charge → 0.00',
  ],
])('the reason of a price by hand is not in what is shown: %s', (stored, shown) => {
  expect(shownTrail(stored)).toBe(shown);
});

test.each([
  'list 195.00, trade −15 % → 165.75, first repair 100 % → 165.75',
  'price for this repair 120.00, first repair 100 % → 120.00',
  'vehicle minimum 65.00, repairs 52.25 → 12.75',
  '',
])('any other trail stays as it is: %s', (trail) => {
  expect(shownTrail(trail)).toBe(trail);
});

test('the code that earlier versions gave to a price by hand is shown as that of any other; rates keep theirs', () => {
  expect(['HAND', 'OTHER', 'VC-M'].map(shownCode)).toEqual(['OTHER', 'OTHER', 'VC-M']);
});
