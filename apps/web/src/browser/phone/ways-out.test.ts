import { expect, test } from 'vitest';
import { leavesPhone } from './ways-out.ts';

test.each<readonly [string, boolean]>([
  ['/field', false],
  ['/field/work-orders/1/photos?choose=yes', false],
  ['/photos/1/original', false],
  ['/office/photos/1/covering', true],
  ['/account', true],
  ['/fields', true],
  ['tel:+12175550148', false],
  ['https://elsewhere.example/office', false],
])('%s leads off the phone: %s', (href, leaves) => {
  expect(leavesPhone(href, 'https://shop.example')).toBe(leaves);
});
