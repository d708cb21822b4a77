import { expect, test } from 'vitest';
import {
  demoAccount,
  demoBook,
  demoInvoices,
  demoLineId,
  demoLines,
  demoTerms,
  demoVisitId,
  demoVisits,
  demoWorkOrderId,
} from '../pricing/demo-figures.ts';
import { priceLine } from '../pricing/price-line.ts';
import { priceVehicle, vehicleRules } from '../pricing/price-vehicle.ts';
import { priceVisit } from '../pricing/price-visit.ts';
import { brokenIdentities } from './broken-identities.ts';
import { buildInvoice, type Invoice, invoiceLines, type VisitToBill } from './invoice.ts';

const taxRounding = { components: 'each', basis: 'invoice' } as const;

function billVisitOf(demoInvoice: (typeof demoInvoices)[number]): VisitToBill {
  const visit = demoVisits.find(
    (one) => one.date === demoInvoice.date && one.account === demoInvoice.account,
  );
  if (!visit) throw new Error(`no visit for ${demoInvoice.number}`);
  const { buyer, setup } = demoAccount(visit.account);
  const vehicles = demoInvoice.workOrders.map((number) => {
    const written = demoLines.filter((line) => line.workOrder === number && line.code !== 'MIN');
    const priced = written.map((line, index) => {
      const lineId = demoLineId(Number(number) * 100 + index);
      const { code, factors: careFactors } = line;
      const choice = { kind: 'code', lineId, code, part: null, material: null, careFactors } as const;
      const result = priceLine(choice, demoBook, buyer, line.date);
      if (!result.ok) throw new Error(result.problem.detail);
      return result.value;
    });
    const price = priceVehicle(priced, vehicleRules(buyer.tier, demoTerms));
    return { workOrderId: demoWorkOrderId(Number(number)), label: number, price };
  });
  const missed = visit.workOrders.filter((order) => order.outcome === 'no_show_fee');
  const { afterHours, rush, minimum, trip } = priceVisit(
    vehicles.map((vehicle) => vehicle.price),
    { ...visit, rush: false },
    buyer.tier,
    demoTerms,
  );
  return {
    visitId: demoVisitId(1),
    dateOfWork: visit.date,
    taxSetup: setup,
    vehicles,
    afterHours,
    rush,
    minimum,
    trip,
    fees: missed.map((order) => ({
      workOrderId: demoWorkOrderId(Number(order.number)),
      label: 'Vehicle not there',
      amountMinor: 5500n,
    })),
  };
}

function figuresOf(invoice: Invoice) {
  const lines = invoiceLines(invoice);
  const sumOf = (...kinds: string[]) =>
    lines.filter((line) => kinds.includes(line.kind)).reduce((sum, line) => sum + line.netMinor, 0n);
  const component = (name: string) =>
    invoice.tax.areas.flatMap((area) => area.components).find((one) => one.name === name)?.amountMinor;
  const vehicles = invoice.visits.flatMap((visit) => visit.vehicles);
  return {
    repairsMinor: sumOf('repair', 'minimum'),
    laborMinor: vehicles.reduce((sum, vehicle) => sum + vehicle.laborMinor, 0n),
    materialsMinor: vehicles.reduce((sum, vehicle) => sum + vehicle.materialsMinor, 0n),
    afterHoursMinor: sumOf('after_hours'),
    tripMinor: sumOf('trip'),
    feeMinor: sumOf('fee'),
    taxMinor: invoice.totals.taxMinor,
    stateMinor: component('state'),
    localMinor: component('local'),
    baseMinor: invoice.tax.taxableMinor,
    totalMinor: invoice.totals.dueMinor,
  };
}

// 21 invoices of the invented business, common practice, no source; figures by two other programs.
test.each(demoInvoices)('invoice $number comes to the cent from its visit', (demoInvoice) => {
  const invoice = buildInvoice({
    visits: [billVisitOf(demoInvoice)],
    certificates: demoAccount(demoInvoice.account).certificates,
    taxRounding,
    prepaidMinor: 0n,
  });
  const { number: _, date: __, account: ___, workOrders: ____, ...figures } = demoInvoice;
  expect(figuresOf(invoice)).toEqual(figures);
  expect(brokenIdentities(invoice, taxRounding)).toEqual([]);
});

test('a month on one invoice keeps areas and exemptions apart', () => {
  const october = demoInvoices.filter((one) => one.number === 'INV-2014' || one.number === 'INV-2020');
  const invoice = buildInvoice({
    visits: october.map(billVisitOf),
    certificates: demoAccount('HD').certificates,
    taxRounding,
    prepaidMinor: 0n,
  });
  // 29.87 exempt until 30 September, 70.09 taxed on 14 October: 337.88 + 612.59.
  expect(invoice.tax.areas.map((area) => [area.exemptMinor, area.taxableMinor])).toEqual([[2987n, 7009n]]);
  expect(invoice.totals.dueMinor).toBe(95047n);
  expect(brokenIdentities(invoice, taxRounding)).toEqual([]);
});

test('an invoice whose figures were touched names what no longer holds', () => {
  const [first] = demoInvoices.filter((one) => one.number === 'INV-2002');
  if (!first) throw new Error('no such invoice');
  const basis = { visits: [billVisitOf(first)], certificates: [], taxRounding, prepaidMinor: 0n };
  const invoice = buildInvoice(basis);
  const wrongDue = { ...invoice, totals: { ...invoice.totals, dueMinor: 28491n } };
  expect(brokenIdentities(wrongDue, taxRounding)).toEqual(['BR-CO-16: due']);
  const wrongTax = {
    ...invoice,
    tax: { ...invoice.tax, areas: invoice.tax.areas.map((area) => ({ ...area, taxMinor: 150n })) },
  };
  expect(brokenIdentities(wrongTax, taxRounding)).toEqual([
    'BR-CO-14: tax',
    'BR-CO-17: base × rate = tax',
    'A: components = tax',
  ]);
});
