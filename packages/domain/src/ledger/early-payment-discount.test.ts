import { expect, test } from 'vitest';
import { day } from '../dates.ts';
import { decimal } from '../money/decimal.ts';
import { earlyPaymentDiscount } from './early-payment-discount.ts';

// OpenStax, Principles of Accounting vol. 1, chapter 6: gross, returns and allowances, terms, discount, cash.
test.each([
  ['16,800 at 2/10, paid within the days', 1_680_000n, 0n, '2', 10, 33_600n, 1_646_400n],
  [
    '19,250 less 3,500 returned and 300 allowed, at 10/15',
    1_925_000n,
    380_000n,
    '10',
    15,
    154_500n,
    1_390_500n,
  ],
  ['1,250 at 4/15', 125_000n, 0n, '4', 15, 5_000n, 120_000n],
])('a published discount: %s', (_name, grossMinor, creditsMinor, percent, days, discountMinor, cashMinor) => {
  const baseMinor = grossMinor - creditsMinor;
  const discount = earlyPaymentDiscount({
    terms: { percent: decimal(percent), days },
    issuedOn: day('2026-08-01'),
    paidOn: day('2026-08-10'),
    baseMinor,
  });
  expect(discount).toBe(discountMinor);
  expect(baseMinor - discount).toBe(cashMinor);
});

test('the last day of the terms still earns the discount, the day after does not', () => {
  const paidOn = (text: string) =>
    earlyPaymentDiscount({
      terms: { percent: decimal('2'), days: 10 },
      issuedOn: day('2026-08-01'),
      paidOn: day(text),
      baseMinor: 1_680_000n,
    });
  expect(paidOn('2026-08-11')).toBe(33_600n);
  expect(paidOn('2026-08-12')).toBe(0n);
});

test('half a cent of discount is rounded up', () => {
  const terms = { percent: decimal('2'), days: 10 };
  const on = day('2026-08-01');
  // 2 % of 10.25 is 20.5 cents.
  expect(earlyPaymentDiscount({ terms, issuedOn: on, paidOn: on, baseMinor: 1025n })).toBe(21n);
});
