import { expect, test } from 'vitest';
import { day } from '../dates.ts';
import { applyPayment, type WantedApplication } from './apply-payment.ts';

// TR's check of 600.00 on INV-2007 of 521.08 in the demo.
const wanted: WantedApplication = {
  invoiceNumber: 'INV-2007',
  invoiceOpenMinor: 52108n,
  unappliedMinor: 60000n,
  amountMinor: 52108n,
  currency: 'USD',
  on: day('2026-09-01'),
  invoicePostedOn: day('2026-08-18'),
  receivedOn: day('2026-09-01'),
};

test('a payment above the invoice settles it and keeps its rest', () => {
  expect(applyPayment(wanted)).toEqual({
    ok: true,
    value: { invoiceOpenMinor: 0n, unappliedMinor: 7892n, settled: true },
  });
});

test('a short payment leaves the invoice open with the rest', () => {
  // UF in the demo: 408.62 on the 472.37 that its deposit left open.
  const short = { ...wanted, invoiceOpenMinor: 47237n, unappliedMinor: 40862n, amountMinor: 40862n };
  expect(applyPayment(short)).toEqual({
    ok: true,
    value: { invoiceOpenMinor: 6375n, unappliedMinor: 0n, settled: false },
  });
});

test('an amount above what the invoice has open is refused, and the refusal says how much is open', () => {
  const refused = applyPayment({ ...wanted, amountMinor: 52109n });
  expect(refused).toMatchObject({ ok: false, problem: { code: 'over_payment', field: 'amount' } });
  expect(detailOf(refused)).toContain('$521.08 of INV-2007 is open');
});

test('a settled invoice takes nothing more', () => {
  const refused = applyPayment({ ...wanted, invoiceOpenMinor: 0n, amountMinor: 1n });
  expect(refused).toMatchObject({ ok: false, problem: { code: 'over_payment' } });
  expect(detailOf(refused)).toContain('Nothing of INV-2007 is open');
});

test('no more is applied than the payment has left, and the refusal says how much that is', () => {
  const refused = applyPayment({ ...wanted, unappliedMinor: 7892n, amountMinor: 7893n });
  expect(refused).toMatchObject({ ok: false, problem: { code: 'over_payment', field: 'amount' } });
  expect(detailOf(refused)).toContain('$78.92');
  const spent = applyPayment({ ...wanted, unappliedMinor: 0n, amountMinor: 1n });
  expect(spent).toMatchObject({ ok: false, problem: { code: 'over_payment' } });
});

test.each([0n, -1n])('an amount of %s is refused', (amountMinor) => {
  expect(applyPayment({ ...wanted, amountMinor })).toMatchObject({
    ok: false,
    problem: { code: 'invalid_money', field: 'amount' },
  });
});

test('nothing is applied before the day of the invoice or of the money', () => {
  const outOfOrder = { ok: false, problem: { code: 'dates_out_of_order', field: 'on' } };
  expect(applyPayment({ ...wanted, on: day('2026-08-31') })).toMatchObject(outOfOrder);
  expect(applyPayment({ ...wanted, invoicePostedOn: day('2026-09-02') })).toMatchObject(outOfOrder);
});

function detailOf(result: ReturnType<typeof applyPayment>): string {
  return result.ok ? '' : result.problem.detail;
}
