import { expect, test } from 'vitest';
import { day } from '../dates.ts';
import { decimal } from '../money/decimal.ts';
import { commissionMinor } from '../pricing/commission.ts';
import {
  demoAccount,
  demoBook,
  demoLineId,
  demoTerms,
  demoVisitId,
  demoWorkOrderId,
} from '../pricing/demo-figures.ts';
import { depositMinor } from '../pricing/deposit.ts';
import { type PricedLine, priceLine } from '../pricing/price-line.ts';
import { priceVehicle, repriceApproved, type VehiclePrice, vehicleRules } from '../pricing/price-vehicle.ts';
import { priceVisit } from '../pricing/price-visit.ts';
import { savings } from '../pricing/savings.ts';
import { type Correction, creditByDifference } from './credit.ts';
import { buildInvoice, type InvoiceBasis } from './invoice.ts';

// Five invented jobs from start to finish: common practice of the trade, no published source; the figures were
// worked out by hand and by two other programs.

const taxRounding = { components: 'each', basis: 'invoice' } as const;
const noCorrection: Correction = { lines: [], charges: [], certificates: [] };

/** Lines written as `CODE` or `CODE/factor`; line ids count from 1. */
function priced(account: string, date: string, ...written: string[]): readonly PricedLine[] {
  return written.map((text, index) => {
    const [code = '', factor] = text.split('/');
    const careFactors = factor ? [factor] : [];
    const lineId = demoLineId(index + 1);
    const line = { kind: 'code', lineId, code, part: null, material: null, careFactors } as const;
    const result = priceLine(line, demoBook, demoAccount(account).buyer, day(date));
    if (!result.ok) throw new Error(result.problem.detail);
    return result.value;
  });
}

function rulesOf(account: string) {
  return vehicleRules(demoAccount(account).buyer.tier, demoTerms);
}

function approved(account: string, lines: readonly PricedLine[], ...numbers: number[]): VehiclePrice {
  const result = repriceApproved({ lines, rules: rulesOf(account) }, numbers.map(demoLineId));
  if (!result.ok) throw new Error(result.problem.detail);
  return result.value;
}

interface Billed {
  readonly account: string;
  readonly date: string;
  readonly miles: string;
  readonly afterHours?: boolean;
  readonly walkIn?: boolean;
  readonly prepaidMinor?: bigint;
}

function bill(job: Billed, ...prices: VehiclePrice[]) {
  const { buyer, setup, certificates } = demoAccount(job.account);
  const facts = {
    miles: decimal(job.miles),
    afterHours: job.afterHours ?? false,
    rush: false,
    walkIn: job.walkIn ?? false,
  };
  const visit = priceVisit(prices, facts, buyer.tier, demoTerms);
  const basis: InvoiceBasis = {
    visits: [
      {
        visitId: demoVisitId(1),
        dateOfWork: day(job.date),
        taxSetup: setup,
        vehicles: prices.map((price, index) => ({
          workOrderId: demoWorkOrderId(index + 1),
          label: `vehicle ${index + 1}`,
          price,
        })),
        afterHours: visit.afterHours,
        rush: visit.rush,
        minimum: visit.minimum,
        trip: visit.trip,
        fees: [],
      },
    ],
    certificates,
    taxRounding,
    prepaidMinor: job.prepaidMinor ?? 0n,
  };
  return { visit, basis, invoice: buildInvoice(basis) };
}

function credit(basis: InvoiceBasis, correction: Partial<Correction>) {
  const result = creditByDifference(basis, { ...noCorrection, ...correction });
  if (!result.ok) throw new Error(result.problem.detail);
  return result.value;
}

const nets = (price: VehiclePrice) => price.lines.map((line) => line.netMinor);

test('(a) a tailgate lining for a glass installer comes to 284.90', () => {
  const price = priceVehicle(priced('BG', '2026-08-05', 'WR-1', 'VC-M'), rulesOf('BG'));
  const { visit, invoice } = bill({ account: 'BG', date: '2026-08-05', miles: '12' }, price);
  expect(visit.limitByVehicleMinor).toEqual([23843n]);
  expect(visit.netMinor).toBe(28343n);
  expect(invoice.totals.dueMinor).toBe(28490n);
  expect(savings(94000n, visit.netMinor)).toEqual({ savedMinor: 65657n, percent: decimal('69.8') });
  expect(commissionMinor(price.laborMinor, decimal('38'))).toBe(8167n);
  expect(price.lines.map((line) => line.trail)).toEqual([
    'list 95.00, trade −15 % → 80.75, further repair 90 % → 72.68',
    'list 195.00, trade −15 % → 165.75, first repair 100 % → 165.75',
  ]);
});

test('(b) two scorched trims come to 672.37 by component, where one rate in one go would give a cent more', () => {
  const price = priceVehicle(
    priced('UF', '2026-08-11', 'BN-M/new', 'BN-L/new', 'RI-1', 'CM-1'),
    rulesOf('UF'),
  );
  const job = { account: 'UF', date: '2026-08-11', miles: '26', prepaidMinor: 20000n };
  const { visit, basis, invoice } = bill(job, price);
  expect(invoice.tax.taxMinor).toBe(4103n);
  expect([invoice.totals.withTaxMinor, invoice.totals.dueMinor]).toEqual([67237n, 47237n]);
  expect(savings(285700n, visit.netMinor)).toEqual({ savedMinor: 222566n, percent: decimal('77.9') });
  const together = buildInvoice({ ...basis, taxRounding: { components: 'together', basis: 'invoice' } });
  expect(together.tax.taxMinor).toBe(4104n);
  const trimOff = credit(basis, { lines: [{ kind: 'dropped', lineId: demoLineId(3) }] });
  expect([trimOff.netMinor, trimOff.taxMinor, trimOff.totalMinor]).toEqual([6375n, 413n, 6788n]);
});

test('(c) seven vehicles of a lot come to 773.24 on one invoice with a subtotal each', () => {
  const date = '2026-10-06';
  const written = [
    ['FB-S', 'FB-S'],
    ['BN-S'],
    ['LW-P', 'SW-S', 'PL-S'],
    ['CP-M'],
    ['PU-L', 'SC-M'],
    ['VC-M', 'PL-H'],
    ['KF-1'],
  ].map((codes) => priced('PL', date, ...codes));
  const asWritten = written.map((lines) => priceVehicle(lines, rulesOf('PL')));
  expect(asWritten.reduce((sum, price) => sum + price.repairsMinor, 0n)).toBe(99902n);
  expect(asWritten[4]?.repairsMinor).toBe(30553n);
  expect(asWritten[4] && nets(asWritten[4])).toEqual([23375n, 7178n]);

  const scuffOnly = approved('PL', written[4] ?? [], 2);
  expect(nets(scuffOnly)).toEqual([7975n]);
  const { visit, invoice } = bill({ account: 'PL', date, miles: '8' }, ...asWritten.with(4, scuffOnly));
  expect(invoice.visits[0]?.vehicles.map((vehicle) => vehicle.subtotalMinor)).toEqual([
    8883n,
    6875n,
    23183n,
    6500n,
    7975n,
    17408n,
    6500n,
  ]);
  expect(visit.trip).toMatchObject({ amountMinor: 0n });
  expect(invoice.totals).toMatchObject({ dueMinor: 77324n, taxMinor: 0n });
  expect([invoice.tax.exemptMinor, invoice.tax.nonTaxableMinor]).toEqual([9423n, 67901n]);
});

const dealerJob = { account: 'HD', date: '2026-10-14', miles: '14', afterHours: true };
const dealerLines = () => priced('HD', '2026-10-14', 'LT-L/perf', 'DB-M', 'LW-P', 'SC-S');

test('(d) declining the dash re-prices the bolster from 111.00 to 124.88 and the job from 820.01 to 612.59', () => {
  const asWritten = priceVehicle(dealerLines(), rulesOf('HD'));
  expect(nets(asWritten)).toEqual([30469n, 17888n, 11100n, 5700n]);
  expect(bill(dealerJob, asWritten).visit.afterHours?.amountMinor).toBe(16289n);
  expect(bill(dealerJob, asWritten).invoice.totals.dueMinor).toBe(82001n);

  const three = approved('HD', dealerLines(), 1, 3, 4);
  expect(nets(three)).toEqual([30469n, 12488n, 5700n]);
  const { visit, invoice } = bill(dealerJob, three);
  expect(visit.limitByVehicleMinor).toEqual([60821n]);
  expect(invoice.totals.dueMinor).toBe(61259n);
});

test('(d) a line in the wrong band is credited by difference: 117.88, after-hours 23.43, and no trip comes back', () => {
  const { basis } = bill(dealerJob, approved('HD', dealerLines(), 1, 3, 4));
  const [measured] = priced('HD', '2026-10-14', 'LT-M/perf');
  if (!measured) throw new Error('no line');
  const wrongBand = credit(basis, { lines: [{ kind: 'repriced', line: measured }] });
  expect(wrongBand.lines.map((line) => [line.kind, line.netMinor])).toEqual([
    ['repair', 9375n],
    ['after_hours', 2343n],
  ]);
  expect(wrongBand.taxes.map((tax) => [tax.component, tax.amountMinor])).toEqual([
    ['state', 56n],
    ['local', 14n],
  ]);
  expect(wrongBand.totalMinor).toBe(11788n);
  expect(buildInvoice(wrongBand.remaining).visits[0]?.charges.map((charge) => charge.kind)).toEqual([
    'after_hours',
  ]);

  const late = { kind: 'resale', number: 'R-2', valid: { from: day('2026-10-01'), to: null } } as const;
  const taxOnly = credit(wrongBand.remaining, { certificates: [late] });
  expect([taxOnly.netMinor, taxOnly.totalMinor]).toEqual([0n, 368n]);
  expect(taxOnly.taxes.map((tax) => tax.amountMinor)).toEqual([294n, 74n]);
  expect(buildInvoice(taxOnly.remaining).totals.dueMinor).toBe(49103n);
});

test('(e) a walk-in is estimated at 239.63, asked for 120.00 and billed 330.69', () => {
  const lines = priced('RW', '2026-08-12', 'LT-M', 'SC-S');
  const job = { account: 'RW', date: '2026-08-12', miles: '0', walkIn: true };
  const estimate = bill(job, priceVehicle(lines.slice(0, 1), rulesOf('RW'))).invoice;
  expect(estimate.totals.withTaxMinor).toBe(23963n);
  expect(depositMinor(estimate.totals.withTaxMinor, demoTerms)).toBe(12000n);
  const { invoice } = bill({ ...job, prepaidMinor: 12000n }, priceVehicle(lines, rulesOf('RW')));
  expect(invoice.tax.areas[0]?.components.map((component) => component.amountMinor)).toEqual([1708n, 311n]);
  expect([invoice.totals.withTaxMinor, invoice.totals.dueMinor]).toEqual([33069n, 21069n]);
});

test('a credit frees no minimum and no trip, and takes off a charge only where that is said', () => {
  const price = priceVehicle(priced('BG', '2026-09-29', 'PL-S'), rulesOf('BG'));
  const { basis } = bill({ account: 'BG', date: '2026-09-29', miles: '12' }, price);
  const line = credit(basis, { lines: [{ kind: 'dropped', lineId: demoLineId(1) }] });
  expect(line.lines.map((one) => [one.kind, one.netMinor])).toEqual([['repair', 9350n]]);
  const rest = credit(line.remaining, {
    charges: [
      { kind: 'minimum', workOrderId: demoWorkOrderId(1) },
      { kind: 'trip', visitId: demoVisitId(1) },
    ],
  });
  expect(rest.lines.map((one) => [one.kind, one.netMinor])).toEqual([
    ['minimum', 3150n],
    ['trip', 4500n],
  ]);
  expect(buildInvoice(rest.remaining).totals.dueMinor).toBe(0n);
});

// Less than the rule makes of the repairs: the rest is on an earlier invoice of the visit, or was not approved.
test('after-hours that are a part of the visit’s keep their share, and two credits come to what one does', () => {
  const { basis } = bill(dealerJob, approved('HD', dealerLines(), 1, 3, 4));
  const part: InvoiceBasis = {
    ...basis,
    visits: basis.visits.map((visit) => ({
      ...visit,
      afterHours: visit.afterHours && { ...visit.afterHours, amountMinor: 6000n },
    })),
  };
  const dropped = (...lines: readonly number[]) => ({
    lines: lines.map((line) => ({ kind: 'dropped' as const, lineId: demoLineId(line) })),
  });
  const afterHours = (of: { readonly lines: readonly { kind: string; netMinor: bigint }[] }) =>
    of.lines.find((line) => line.kind === 'after_hours')?.netMinor;
  // 60.00 × 361.69 ÷ 486.57 = 44.60…, of 304.69 it is 37.57…
  const first = credit(part, dropped(3));
  expect(afterHours(first)).toBe(1540n);
  const second = credit(first.remaining, dropped(4));
  expect(afterHours(second)).toBe(703n);
  expect(afterHours(credit(part, dropped(3, 4)))).toBe(2243n);
  expect(afterHours(credit(second.remaining, dropped(1)))).toBe(3757n);
});

test('a credit that names a foreign line, raises a line or changes nothing is refused', () => {
  const { basis } = bill(dealerJob, approved('HD', dealerLines(), 1, 3, 4));
  const codeOf = (lines: Correction['lines']) => {
    const result = creditByDifference(basis, { ...noCorrection, lines });
    return result.ok ? null : result.problem.code;
  };
  expect(codeOf([{ kind: 'dropped', lineId: demoLineId(99) }])).toBe('invalid_input');
  expect(codeOf([{ kind: 'reduced', lineId: demoLineId(1), netMinor: 30470n }])).toBe('invalid_money');
  expect(codeOf([{ kind: 'reduced', lineId: demoLineId(1), netMinor: -1n }])).toBe('invalid_money');
  expect(codeOf([{ kind: 'reduced', lineId: demoLineId(1), netMinor: 30469n }])).toBe('invalid_input');
  expect(codeOf([])).toBe('invalid_input');
});

// Materials are taxed where labor is not: all of the line as materials is taxed by more than the cent that comes off.
test('a line that costs less but is taxed by more is refused, in words that name both amounts', () => {
  const { basis } = bill(dealerJob, approved('HD', dealerLines(), 1, 3, 4));
  const [line] = dealerLines();
  if (line === undefined) throw new Error('the dealer’s job has lines');
  const beforeFurtherMinor = line.beforeFurtherMinor - 1n;
  const repriced = { ...line, beforeFurtherMinor, materialsPercent: decimal('100') };
  const result = creditByDifference(basis, {
    ...noCorrection,
    lines: [{ kind: 'repriced', line: repriced }],
  });
  expect(result.ok ? '' : result.problem.detail).toMatch(
    /^Sales tax would rise by \d+\.\d\d and the lines would drop by 0\.0\d only/,
  );
});
