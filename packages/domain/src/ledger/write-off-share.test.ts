import fc from 'fast-check';
import { expect, test } from 'vitest';
import { lesserMinor } from '../money/money.ts';
import { writeOffShare } from './write-off-share.ts';

const state = { areaCode: 'B', component: 'State' };
const local = { areaCode: 'B', component: 'Local' };

// 672.37 of which 34.72 + 6.31 are tax: of 67.24 the exact shares are 63.137 (net), 3.472 and 0.631.
test('a write-off holds each component of the tax in the proportion it has in the invoice', () => {
  const taxes = [
    { ...state, amountMinor: 3472n },
    { ...local, amountMinor: 631n },
  ];
  expect(writeOffShare(6724n, { netMinor: 63134n, taxes })).toEqual([
    { ...state, amountMinor: 347n },
    { ...local, amountMinor: 63n },
  ]);
});

test('an invoice without tax has no share, and a component of zero is left out', () => {
  expect(writeOffShare(6724n, { netMinor: 63134n, taxes: [] })).toEqual([]);
  const taxes = [
    { ...state, amountMinor: 0n },
    { ...local, amountMinor: 631n },
  ];
  expect(writeOffShare(6724n, { netMinor: 63134n, taxes }).map((tax) => tax.component)).toEqual(['Local']);
});

test('written off whole, all of the tax is taken back, and never more than the amount', () => {
  const minor = fc.bigInt(0n, 1_000_000n);
  fc.assert(
    fc.property(fc.bigInt(1n, 1_000_000n), minor, minor, minor, (netMinor, first, second, part) => {
      const taxes = [
        { ...state, amountMinor: first },
        { ...local, amountMinor: second },
      ];
      const total = netMinor + first + second;
      const sum = (amountMinor: bigint) =>
        writeOffShare(amountMinor, { netMinor, taxes }).reduce((all, tax) => all + tax.amountMinor, 0n);
      expect(sum(total)).toBe(first + second);
      const some = lesserMinor(part, total);
      expect(sum(some)).toBeLessThanOrEqual(some);
    }),
  );
});
