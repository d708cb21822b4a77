import { expect, test } from 'vitest';
import { day } from '../dates.ts';
import { decimal } from '../money/decimal.ts';
import {
  demoAccount,
  demoBook,
  demoLineId,
  demoTerms,
  demoVisitId,
  demoWorkOrderId,
} from '../pricing/demo-figures.ts';
import type { PriceTerms } from '../pricing/price-book.ts';
import { type PricedLine, priceLine } from '../pricing/price-line.ts';
import { priceVehicle, vehicleRules } from '../pricing/price-vehicle.ts';
import { priceVisit } from '../pricing/price-visit.ts';
import { brokenIdentities } from './broken-identities.ts';
import { type Correction, creditByDifference } from './credit.ts';
import { buildInvoice, type InvoiceBasis, invoiceLines } from './invoice.ts';

// Computed by hand, the arithmetic beside each figure. The rules are common practice of the trade, no source; prices
// and taxes (5.5 % and 1 % on everything) are an invented business's.

const { buyer, setup } = demoAccount('RW');
const terms: PriceTerms = {
  ...demoTerms,
  rushPercent: decimal('30'),
  tripZones: [{ name: 'Valley', upToMiles: decimal('20'), amountMinor: 4500n }],
};
const tier = { ...buyer.tier, vehicleCapMinor: 30000n, visitMinimumMinor: 32000n };
const taxRounding = { components: 'each', basis: 'invoice' } as const;

function line(number: number, code: string): PricedLine {
  const place = { part: null, material: null } as const;
  const written = { kind: 'code', lineId: demoLineId(number), code, careFactors: [], ...place } as const;
  const result = priceLine(written, demoBook, { ...buyer, tier }, day('2026-08-12'));
  if (!result.ok) throw new Error(result.problem.detail);
  return result.value;
}

/** 147.36, 95.21 and 57.43 under a cap of 300.00; rush, what is missing to 320.00, and the trip. */
const price = priceVehicle([line(1, 'VC-M'), line(2, 'VC-S'), line(3, 'SC-S')], vehicleRules(tier, terms));
const facts = { miles: decimal('12'), afterHours: false, rush: true, walkIn: false };
const { afterHours, rush, minimum, trip } = priceVisit([price], facts, tier, terms);
const basis: InvoiceBasis = {
  visits: [
    {
      visitId: demoVisitId(1),
      dateOfWork: day('2026-08-12'),
      taxSetup: setup,
      vehicles: [{ workOrderId: demoWorkOrderId(1), label: 'vehicle', price }],
      afterHours,
      rush,
      minimum,
      trip,
      fees: [],
    },
  ],
  certificates: [],
  taxRounding,
  prepaidMinor: 0n,
};

function credited(from: InvoiceBasis, correction: Partial<Correction>) {
  const result = creditByDifference(from, { lines: [], charges: [], certificates: [], ...correction });
  if (!result.ok) throw new Error(result.problem.detail);
  return result.value;
}

const offOf = (credit: ReturnType<typeof credited>) =>
  credit.lines.map((each) => [each.label, each.netMinor]);

test('an invoice says rush, visit minimum and zone as lines of their own, all but the trip labor', () => {
  const invoice = buildInvoice(basis);
  const charges = invoiceLines(invoice).filter((each) => each.kind !== 'repair');
  // 300.00 × 30 %; 320.00 − 300.00; the zone.
  expect(charges.map(({ kind, netMinor, trail }) => [kind, netMinor, trail])).toEqual([
    ['rush', 9000n, 'rush 30 % of 300.00 → 90.00'],
    ['visit_minimum', 2000n, 'visit minimum 320.00, repairs 300.00 → 20.00'],
    ['trip', 4500n, 'trip zone “Valley” up to 20 mi 45.00 → 45.00'],
  ]);
  expect(charges.map((each) => each.byClass.labor)).toEqual([9000n, 2000n, 0n]);
  // 300.00 + 90.00 + 20.00 + 45.00 = 455.00; 5.5 % = 25.025, half-up 25.03; 1 % = 4.55.
  expect(invoice.totals).toMatchObject({ withoutTaxMinor: 45500n, taxMinor: 2958n, withTaxMinor: 48458n });
  expect(brokenIdentities(invoice, taxRounding)).toEqual([]);
});

test('a line dropped takes its rush with it; the minimum of the visit and what the cap made of the others stay', () => {
  const credit = credited(basis, { lines: [{ kind: 'dropped', lineId: demoLineId(3) }] });
  // 300.00 − 57.43 = 242.57 × 30 % = 72.771, and 90.00 − 72.77 = 17.23.
  expect(offOf(credit)).toEqual([
    [price.lines[2]?.repair, 5743n],
    ['Rush', 1723n],
  ]);
  // 74.66 off 455.00 leaves 380.34: 5.5 % = 20.9187, 1 % = 3.8034; 29.58 − 24.72 = 4.86.
  expect(credit).toMatchObject({ netMinor: 7466n, taxMinor: 486n, totalMinor: 7952n });
  expect(credit.remaining.visits[0]?.minimum).toEqual(minimum);
});

test('a line priced again in a smaller size never comes to more than it was billed at under the cap', () => {
  const repriced = (code: string) =>
    creditByDifference(basis, {
      lines: [{ kind: 'repriced', line: line(2, code) }],
      charges: [],
      certificates: [],
    });
  // 95.00 × 90 % = 85.50 is 9.71 less than 95.21.
  const smaller = repriced('SC-S');
  expect(smaller.ok && smaller.value.lines[0]).toMatchObject({ netMinor: 971n, afterMinor: 8550n });
  // 110.00 × 90 % = 99.00 is less than the 126.00 that the line was before the cap, and more than 95.21.
  expect(repriced('PL-S')).toMatchObject({
    ok: false,
    problem: { detail: 'This changes nothing on the invoice.' },
  });
});

test('rush and the visit’s minimum can be taken off whole, one after the other', () => {
  const visitId = demoVisitId(1);
  const withoutRush = credited(basis, { charges: [{ kind: 'rush', visitId }] });
  expect(offOf(withoutRush)).toEqual([['Rush', 9000n]]);
  const rest = credited(withoutRush.remaining, { charges: [{ kind: 'visit_minimum', visitId }] });
  expect(offOf(rest)).toEqual([['Visit minimum', 2000n]]);
  expect(buildInvoice(rest.remaining).totals.withoutTaxMinor).toBe(34500n);
});
