import { expect, test } from 'vitest';
import { isUuid, toId } from './ids.ts';

// RFC 9562, sections 5.7 (version 7, the example of appendix A.6), 5.9 (nil) and 5.10 (max).
test('an id is a UUID with a version in lower case; nil and max stand for nothing', () => {
  expect(isUuid('017f22e2-79b0-7cc3-98c4-dc0c0c07398f')).toBe(true);
  for (const text of [
    '00000000-0000-0000-0000-000000000000',
    'ffffffff-ffff-ffff-ffff-ffffffffffff',
    '017F22E2-79B0-7CC3-98C4-DC0C0C07398F',
    '',
  ]) {
    expect(isUuid(text)).toBe(false);
    expect(() => toId(text)).toThrow('not a UUID');
  }
});
