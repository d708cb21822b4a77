import fc from 'fast-check';
import { expect, test } from 'vitest';
import { day } from '../dates.ts';
import {
  demoAccount,
  demoBook,
  demoLineId,
  demoTerms,
  demoVisitId,
  demoWorkOrderId,
} from '../pricing/demo-figures.ts';
import { type PricedLine, priceLine } from '../pricing/price-line.ts';
import { priceVehicle, vehicleRules } from '../pricing/price-vehicle.ts';
import { priceVisit } from '../pricing/price-visit.ts';
import type { TaxRounding } from '../tax/tax-setup.ts';
import { brokenIdentities } from './broken-identities.ts';
import { creditByDifference, type LineCorrection } from './credit.ts';
import { buildInvoice, type InvoiceBasis, invoiceLines } from './invoice.ts';

const codes = demoBook.rates.map((rate) => rate.code);
const visits = fc.record({
  account: fc.constantFrom('BG', 'UF', 'PL', 'HD', 'DR', 'RW'),
  vehicles: fc.array(fc.array(fc.constantFrom(...codes), { minLength: 1, maxLength: 5 }), {
    minLength: 1,
    maxLength: 4,
  }),
  miles: fc.bigInt(0n, 60n).map((digits) => ({ digits, scale: 0 })),
  afterHours: fc.boolean(),
  rush: fc.boolean(),
  rushPercent: fc.bigInt(0n, 100n).map((digits) => ({ digits, scale: 0 })),
  rushMinimumMinor: fc.bigInt(0n, 9000n),
  vehicleCapMinor: fc.option(fc.bigInt(15_000n, 90_000n)),
  visitMinimumMinor: fc.bigInt(0n, 90_000n),
  feeMinor: fc.bigInt(0n, 9000n),
  taxRounding: fc.record<TaxRounding>({
    components: fc.constantFrom('each', 'together'),
    basis: fc.constantFrom('invoice', 'item'),
  }),
});

type Visit = typeof visits extends fc.Arbitrary<infer T> ? T : never;

function basisOf(visit: Visit): InvoiceBasis {
  const { buyer, setup, certificates } = demoAccount(visit.account);
  const { vehicleCapMinor, visitMinimumMinor, rushPercent, rushMinimumMinor } = visit;
  const tier = { ...buyer.tier, vehicleCapMinor, visitMinimumMinor };
  const terms = { ...demoTerms, rushPercent, rushMinimumMinor };
  const dateOfWork = day('2026-10-14');
  const vehicles = visit.vehicles.map((written, place) => {
    const lines = written.map((code, index): PricedLine => {
      const lineId = demoLineId(place * 100 + index);
      const line = { kind: 'code', lineId, code, part: null, material: null, careFactors: [] } as const;
      const result = priceLine(line, demoBook, buyer, dateOfWork);
      if (!result.ok) throw new Error(result.problem.detail);
      return result.value;
    });
    const price = priceVehicle(lines, vehicleRules(tier, terms));
    return { workOrderId: demoWorkOrderId(place), label: `vehicle ${place}`, price };
  });
  const { afterHours, rush, minimum, trip } = priceVisit(
    vehicles.map((vehicle) => vehicle.price),
    { miles: visit.miles, afterHours: visit.afterHours, rush: visit.rush, walkIn: false },
    tier,
    terms,
  );
  return {
    visits: [
      {
        visitId: demoVisitId(1),
        dateOfWork,
        taxSetup: setup,
        vehicles,
        afterHours,
        rush,
        minimum,
        trip,
        fees: [{ workOrderId: null, label: 'Vehicle not there', amountMinor: visit.feeMinor }],
      },
    ],
    certificates,
    taxRounding: visit.taxRounding,
    prepaidMinor: 0n,
  };
}

function creditOf(basis: InvoiceBasis, lines: readonly LineCorrection[]) {
  const result = creditByDifference(basis, { lines, charges: [], certificates: [] });
  if (!result.ok) throw new Error(result.problem.detail);
  return result.value;
}

test('whatever is billed: the lines make the invoice and no identity breaks', () => {
  fc.assert(
    fc.property(visits, (visit) => {
      const basis = basisOf(visit);
      const invoice = buildInvoice(basis);
      expect(brokenIdentities(invoice, basis.taxRounding)).toEqual([]);
      const lines = invoiceLines(invoice).reduce((sum, line) => sum + line.netMinor, 0n);
      expect(lines + invoice.tax.taxMinor).toBe(invoice.totals.withTaxMinor);
    }),
  );
});

test('whatever is credited, in one or in many credits: it comes to the same, and what remains is sound', () => {
  fc.assert(
    fc.property(visits, fc.bigInt(0n, 99n), (visit, keptPercent) => {
      const basis = basisOf(visit);
      const corrections = basis.visits
        .flatMap(({ vehicles }) => vehicles.flatMap((vehicle) => vehicle.price.lines))
        .map(({ lineId, netMinor }): LineCorrection => {
          return { kind: 'reduced', lineId, netMinor: (netMinor * keptPercent) / 100n };
        });
      const atOnce = creditOf(basis, corrections);
      let remaining = basis;
      let creditedMinor = 0n;
      for (const correction of corrections) {
        const credit = creditOf(remaining, [correction]);
        expect(credit.netMinor + credit.taxMinor).toBe(credit.totalMinor);
        expect(credit.lines.reduce((sum, line) => sum + line.netMinor, 0n)).toBe(credit.netMinor);
        expect(credit.taxes.reduce((sum, tax) => sum + tax.amountMinor, 0n)).toBe(credit.taxMinor);
        creditedMinor += credit.totalMinor;
        remaining = credit.remaining;
      }
      expect(creditedMinor).toBe(atOnce.totalMinor);
      const rest = buildInvoice(remaining);
      expect(brokenIdentities(rest, basis.taxRounding)).toEqual([]);
      expect(rest.totals.withTaxMinor + creditedMinor).toBe(buildInvoice(basis).totals.withTaxMinor);
    }),
  );
});
