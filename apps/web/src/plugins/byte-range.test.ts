import { expect, test } from 'vitest';
import { readRange } from './byte-range.ts';

// RFC 9110 §14.1.2, its examples for a representation of 10000 bytes.
test('the examples of RFC 9110 are read as it says', () => {
  expect(readRange('bytes=0-499', 10_000)).toEqual({ first: 0, last: 499 });
  expect(readRange('bytes=500-999', 10_000)).toEqual({ first: 500, last: 999 });
  expect(readRange('bytes=-500', 10_000)).toEqual({ first: 9500, last: 9999 });
  expect(readRange('bytes=9500-', 10_000)).toEqual({ first: 9500, last: 9999 });
});

test('a range is cut at the end of the file, and one that begins after it can’t be satisfied', () => {
  expect(readRange('bytes=9000-20000', 10_000)).toEqual({ first: 9000, last: 9999 });
  expect(readRange('bytes=-20000', 10_000)).toEqual({ first: 0, last: 9999 });
  expect(readRange('bytes=10000-', 10_000)).toBe('unsatisfiable');
  expect(readRange('bytes=-0', 10_000)).toBe('unsatisfiable');
});

test('what is no single range of bytes is answered with all of it', () => {
  for (const header of [
    undefined,
    '',
    'bytes=',
    'bytes=-',
    'bytes=5-2',
    'bytes=0-1,4-5',
    'lines=1-2',
    'bytes=a-b',
  ])
    expect(readRange(header, 10_000)).toBe('whole');
});
