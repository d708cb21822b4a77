import { expect, test } from 'vitest';
import { closingSeam, type Stitch, seam, shortSeam } from './seam.ts';

const done = { when: 'Aug 5, 2026', by: 'Rosa Lindqvist' };
const stitches: readonly Stitch[] = [
  { label: 'Written up', done },
  { label: 'Approved', done: null, note: 'Brightline Glass has the link' },
  { label: 'Worked', done: null },
];

test('the seam is an ordered list with one item for each event, in order', () => {
  const markup = String(seam('Where WO-1004 stands', stitches));
  expect(markup).toMatch(/^<ol class="seam" aria-label="Where WO-1004 stands">/);
  expect(markup.match(/<li /g)).toHaveLength(3);
  expect(markup.indexOf('Written up')).toBeLessThan(markup.indexOf('Approved'));
});

test('a stitch is whole with its date and person where something happened', () => {
  const markup = String(seam('x', stitches.slice(0, 1)));
  expect(markup).toContain('stitch--whole');
  expect(markup).toContain('Aug 5, 2026, Rosa Lindqvist');
});

test('only the first stitch that is open waits; those after it say “not yet” in words', () => {
  const markup = String(seam('x', stitches));
  expect(markup.match(/stitch--waiting/g)).toHaveLength(1);
  expect(markup.match(/stitch--open/g)).toHaveLength(1);
  expect(markup.match(/>not yet</g)).toHaveLength(1);
  expect(markup).toContain('Brightline Glass has the link');
});

test('a seam that is finished waits for nothing', () => {
  const markup = String(seam('x', [{ label: 'Paid', done }]));
  expect(markup).not.toContain('stitch--waiting');
});

test('the short seam says how far it has come, and what it waits for', () => {
  const markup = String(shortSeam(stitches, 'waits for approval'));
  expect(markup).toContain('aria-label="1 of 3 steps done"');
  expect(markup).toContain('waits for approval');
  expect(String(shortSeam(stitches))).toContain('>Written up<');
});

test('the closing seam is decoration; only its content is heard', () => {
  expect(String(closingSeam('$284.90'))).toContain('aria-hidden="true"');
  expect(String(closingSeam('$284.90'))).toContain('$284.90');
  expect(String(closingSeam())).not.toContain('closing-seam-content');
});
