import { expect, test } from 'vitest';
import { type Decimal, decimal, formatDecimal } from '../money/decimal.ts';
import { commissionMinor } from './commission.ts';
import { demoAccount, demoBook, demoLineId, demoLines, demoTerms, demoVisits } from './demo-figures.ts';
import { priceLine } from './price-line.ts';
import { priceVehicle, type VehiclePrice, vehicleRules } from './price-vehicle.ts';

const workOrders = [...Map.groupBy(demoLines, (line) => line.workOrder)];

function priceWorkOrder(workOrder: string): VehiclePrice {
  const written = demoLines.filter((line) => line.workOrder === workOrder && line.code !== 'MIN');
  const { buyer } = demoAccount(written[0]?.account ?? '');
  const priced = written.map((line, index) => {
    const result = priceLine(
      {
        kind: 'code',
        lineId: demoLineId(index),
        code: line.code,
        part: null,
        material: null,
        careFactors: line.factors,
      },
      demoBook,
      buyer,
      line.date,
    );
    if (!result.ok) throw new Error(result.problem.detail);
    return result.value;
  });
  return priceVehicle(priced, vehicleRules(buyer.tier, demoTerms));
}

// 69 lines of the invented business, common practice, no source; figures by two other programs.
test('the figures hold every line of 37 work orders', () => {
  expect([demoLines.length, workOrders.length]).toEqual([69, 37]);
});

test.each(workOrders)(
  'work order %s is priced to the cent, from list to labor and materials',
  (number, expected) => {
    const price = priceWorkOrder(number);
    const rows = price.lines.map((line) => ({
      code: line.code,
      afterFactorMinor: line.afterFactorMinor,
      beforeFurtherMinor: line.beforeFurtherMinor,
      furtherPercent: formatDecimal(line.furtherPercent),
      netMinor: line.netMinor,
      laborMinor: line.laborMinor,
      materialsMinor: line.materialsMinor,
    }));
    const figures = expected.map(({ workOrder: _, date: __, account: ___, factors: ____, ...figure }) => ({
      ...figure,
      furtherPercent: formatDecimal(figure.furtherPercent),
    }));
    expect(rows).toEqual(figures.filter((figure) => figure.code !== 'MIN'));
    expect(price.minimum?.netMinor).toBe(figures.find((figure) => figure.code === 'MIN')?.netMinor);
    const sum = (pick: (figure: (typeof figures)[number]) => bigint) =>
      figures.map(pick).reduce((a, b) => a + b, 0n);
    expect([price.repairsMinor, price.laborMinor, price.materialsMinor]).toEqual([
      sum((figure) => figure.netMinor),
      sum((figure) => figure.laborMinor),
      sum((figure) => figure.materialsMinor),
    ]);
  },
);

// Commission on repair labor before credits: T1 1,082.67, T2 582.82, T3 386.30; common practice, no source.
test.each([
  ['T1', '40', 108267n],
  ['T2', '38', 58282n],
  ['T3', '35', 38630n],
])(
  'the commission of %s at %s percent of labor, rounded per vehicle, adds up to %s',
  (technician, rate, total) => {
    const percent: Decimal = decimal(rate);
    const billed = demoVisits
      .filter((visit) => visit.technician === technician)
      .flatMap((visit) => visit.workOrders.filter((order) => order.outcome === 'billed'));
    const paid = billed.map((order) => commissionMinor(priceWorkOrder(order.number).laborMinor, percent));
    expect(paid.reduce((a, b) => a + b, 0n)).toBe(total);
  },
);
