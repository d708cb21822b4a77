import { expect, test } from 'vitest';
import { decimal, formatDecimal } from '../money/decimal.ts';
import { parseMinor, roundHalfUp } from '../money/money.ts';
import { type ExampleInvoice, exampleInvoices } from './en16931-examples.ts';
import { brokenTotals, type InvoiceTotals, type TotalsInput, totalInvoice } from './totals.ts';

function minor(text: string): bigint {
  const parsed = parseMinor(text, { allowNegative: true });
  if (!parsed.ok) throw new Error(parsed.problem.detail);
  return parsed.value;
}

function amount(entry: string) {
  const [value = '', category = '', rate = '', tax = '0'] = entry.split(' ');
  const ratePercent = decimal(formatDecimal(decimal(rate)));
  const group = `${category} ${formatDecimal(ratePercent)}`;
  return { minor: minor(value), group, ratePercent, taxMinor: minor(tax) };
}

/** BR-S-08: the base of a rate is its lines, plus charges, less allowances; BR-CO-17: base × rate, rounded. */
function taxGroups(example: ExampleInvoice) {
  const entries = [
    ...[...example.lines, ...example.charges].map(amount),
    ...example.allowances.map(amount).map((one) => ({ ...one, minor: -one.minor })),
  ];
  return [...Map.groupBy(entries, (entry) => entry.group)].map(([group, members]) => {
    const taxableMinor = members.reduce((sum, member) => sum + member.minor, 0n);
    const ratePercent = members[0]?.ratePercent ?? decimal('0');
    return { group, taxableMinor, ratePercent, taxMinor: roundHalfUp(taxableMinor, ratePercent) };
  });
}

function inputOf(example: ExampleInvoice): TotalsInput {
  return {
    lineNetsMinor: example.lines.map((line) => amount(line).minor),
    allowancesMinor: example.allowances.map((entry) => amount(entry).minor),
    chargesMinor: example.charges.map((entry) => amount(entry).minor),
    taxGroups: taxGroups(example),
    prepaidMinor: minor(example.prepaid),
    roundingMinor: minor(example.rounding),
  };
}

function statedTotals(example: ExampleInvoice): InvoiceTotals {
  return {
    linesMinor: minor(example.linesTotal),
    allowancesMinor: minor(example.allowancesTotal),
    chargesMinor: minor(example.chargesTotal),
    withoutTaxMinor: minor(example.withoutTax),
    taxMinor: minor(example.tax),
    withTaxMinor: minor(example.withTax),
    prepaidMinor: minor(example.prepaid),
    roundingMinor: minor(example.rounding),
    dueMinor: minor(example.due),
  };
}

test('there are nine published examples', () => {
  expect(exampleInvoices).toHaveLength(9);
});

test.each(exampleInvoices)('the example $id adds up as printed', (example) => {
  const byRate = <T extends { group: string }>(groups: T[]) =>
    groups.toSorted((a, b) => (a.group < b.group ? -1 : 1));
  const printed = example.taxes.map(amount).map((tax) => ({
    group: tax.group,
    taxableMinor: tax.minor,
    ratePercent: tax.ratePercent,
    taxMinor: tax.taxMinor,
  }));
  expect(byRate(taxGroups(example))).toEqual(byRate(printed));
  expect(totalInvoice(inputOf(example))).toEqual(statedTotals(example));
  expect(brokenTotals(inputOf(example), statedTotals(example))).toEqual([]);
});

const perturbations: readonly (readonly [keyof InvoiceTotals, readonly string[]])[] = [
  ['linesMinor', ['BR-CO-10: lines', 'BR-CO-13: total without tax']],
  ['allowancesMinor', ['BR-CO-11: allowances', 'BR-CO-13: total without tax']],
  ['chargesMinor', ['BR-CO-12: charges', 'BR-CO-13: total without tax']],
  ['withoutTaxMinor', ['BR-CO-13: total without tax', 'BR-CO-15: total with tax']],
  ['taxMinor', ['BR-CO-14: tax', 'BR-CO-15: total with tax']],
  ['withTaxMinor', ['BR-CO-15: total with tax', 'BR-CO-16: due']],
  ['prepaidMinor', ['BR-CO-16: due']],
  ['dueMinor', ['BR-CO-16: due']],
];

test.each(perturbations)('a cent too many in %s breaks %j, in every example', (field, rules) => {
  for (const example of exampleInvoices) {
    const stated = statedTotals(example);
    expect(brokenTotals(inputOf(example), { ...stated, [field]: stated[field] + 1n })).toEqual(rules);
  }
});

// OpenPEPPOL Norwegian-example-1: 1801.78 − 1000 + 0.22; Peppol guide, totals: 999.81 + 0.19.
test('what is due may be rounded to a whole, as where cash is paid', () => {
  const due = (lineMinor: bigint, prepaidMinor: bigint, roundingMinor: bigint) =>
    totalInvoice({
      lineNetsMinor: [lineMinor],
      allowancesMinor: [],
      chargesMinor: [],
      taxGroups: [],
      prepaidMinor,
      roundingMinor,
    }).dueMinor;
  expect([due(180178n, 100000n, 22n), due(99981n, 0n, 19n)]).toEqual([80200n, 100000n]);
});

test('tax a cent off base × rate breaks BR-CO-17, unless parts were rounded apart', () => {
  const group = { taxableMinor: 63134n, ratePercent: decimal('6.5'), taxMinor: 4103n };
  const totalsOf = (taxGroups: TotalsInput['taxGroups']): TotalsInput => ({
    lineNetsMinor: [63134n],
    allowancesMinor: [],
    chargesMinor: [],
    taxGroups,
    prepaidMinor: 0n,
    roundingMinor: 0n,
  });
  const broken = (input: TotalsInput) => brokenTotals(input, totalInvoice(input));
  // 631.34 at 6.5 % is 41.0371; at 5.5 % and 1 %, rounded each, 34.72 and 6.31.
  expect(broken(totalsOf([group]))).toEqual(['BR-CO-17: base × rate = tax']);
  expect(broken(totalsOf([{ ...group, slackMinor: 1n }]))).toEqual([]);
});
