import fc from 'fast-check';
import { expect, test } from 'vitest';
import { lesserMinor } from '../money/money.ts';
import { writeOffShare } from './write-off-share.ts';

const state = { areaCode: 'B', component: 'State' };
const local = { areaCode: 'B', component: 'Local' };
const nothing = { amountMinor: 0n, taxes: [] };

// 672.37 of which 34.72 + 6.31 are tax: of 67.24 the exact shares are 63.137 (net), 3.472 and 0.631.
test('a write-off holds each component of the tax in the proportion it has in the invoice', () => {
  const taxes = [
    { ...state, amountMinor: 3472n },
    { ...local, amountMinor: 631n },
  ];
  expect(writeOffShare(6724n, { netMinor: 63134n, taxes }, nothing)).toEqual([
    { ...state, amountMinor: 347n },
    { ...local, amountMinor: 63n },
  ]);
});

test('an invoice without tax has no share, and a component of zero is left out', () => {
  expect(writeOffShare(6724n, { netMinor: 63134n, taxes: [] }, nothing)).toEqual([]);
  const taxes = [
    { ...state, amountMinor: 0n },
    { ...local, amountMinor: 631n },
  ];
  expect(writeOffShare(6724n, { netMinor: 63134n, taxes }, nothing).map((tax) => tax.component)).toEqual([
    'Local',
  ]);
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
        writeOffShare(amountMinor, { netMinor, taxes }, nothing).reduce(
          (all, tax) => all + tax.amountMinor,
          0n,
        );
      expect(sum(total)).toBe(first + second);
      const some = lesserMinor(part, total);
      expect(sum(some)).toBeLessThanOrEqual(some);
    }),
  );
});

// 672.37 in six parts (five of 112.06 and one of 112.07) takes back the tax that was charged: 34.72 and 6.31.
test('parts written off one after the other take back all of the tax, no more, and none of them more than itself', () => {
  const charged = [
    { ...state, amountMinor: 3472n },
    { ...local, amountMinor: 631n },
  ];
  const taken = (parts: readonly bigint[], netMinor: bigint, taxes: typeof charged) => {
    let before: Parameters<typeof writeOffShare>[2] = nothing;
    for (const part of parts) {
      const shares = writeOffShare(part, { netMinor, taxes }, before);
      const sum = shares.reduce((all, tax) => all + tax.amountMinor, 0n);
      expect(sum).toBeLessThanOrEqual(part);
      before = { amountMinor: before.amountMinor + part, taxes: [...before.taxes, ...shares] };
    }
    return taxes.map((tax) =>
      before.taxes
        .filter((each) => each.component === tax.component)
        .reduce((all, each) => all + each.amountMinor, 0n),
    );
  };
  expect(taken([11206n, 11206n, 11206n, 11206n, 11206n, 11207n], 63134n, charged)).toEqual([3472n, 631n]);
  const part = fc.bigInt(1n, 500n);
  fc.assert(
    fc.property(fc.array(part, { minLength: 1, maxLength: 20 }), fc.nat(100), fc.nat(100), (parts, a, b) => {
      const total = parts.reduce((all, each) => all + each, 0n);
      const first = (total * BigInt(a)) / 200n;
      const second = (total * BigInt(b)) / 200n;
      const taxes = [
        { ...state, amountMinor: first },
        { ...local, amountMinor: second },
      ];
      expect(taken(parts, total - first - second, taxes)).toEqual([first, second]);
    }),
  );
});
