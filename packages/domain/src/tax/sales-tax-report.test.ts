import { expect, test } from 'vitest';
import { month } from '../dates.ts';
import { type SalesTaxFacts, salesTaxReport } from './sales-tax-report.ts';

// INV-2002 of the agreed demo figures: 283.43 before tax, of which 23.52 is taxed, 1.18 + 0.29.
const place = { month: month('2026-08'), source: 'invoices', areaCode: 'A' } as const;
const facts: SalesTaxFacts = {
  bases: [{ ...place, taxableMinor: 2352n, exemptMinor: 0n, nonTaxableMinor: 25991n }],
  exempt: [],
  taxes: [
    { ...place, component: 'State', amountMinor: 118n },
    { ...place, component: 'Local', amountMinor: 29n },
  ],
  documents: [{ month: place.month, source: 'invoices', documents: 1, netMinor: 28343n, taxMinor: 147n }],
  reclaimed: [],
  areaNames: new Map([['A', 'Kestrel Valley']]),
};

test('gross is exempt, non-taxable and taxable together, and the net what is left of the invoices', () => {
  const credit = { ...place, source: 'credit_notes' } as const;
  const { rows, total } = salesTaxReport({
    ...facts,
    // A certificate that came later: nothing comes off the gross, the taxable becomes exempt.
    bases: [...facts.bases, { ...credit, taxableMinor: 2352n, exemptMinor: -2352n, nonTaxableMinor: 0n }],
    exempt: [{ ...credit, kind: 'resale', amountMinor: -2352n }],
    taxes: [...facts.taxes, ...facts.taxes.map((tax) => ({ ...tax, source: credit.source }))],
    documents: [
      ...facts.documents,
      { month: place.month, source: 'credit_notes', documents: 1, netMinor: 0n, taxMinor: 147n },
    ],
    reclaimed: [{ month: place.month, areaCode: 'A', component: 'State', amountMinor: 50n }],
  });
  expect(rows).toHaveLength(1);
  expect(rows[0]?.net).toMatchObject({
    grossMinor: 28343n,
    exemptMinor: 2352n,
    exemptions: { resale: 2352n, exempt_use: 0n },
    nonTaxableMinor: 25991n,
    taxableMinor: 0n,
    taxMinor: 0n,
  });
  expect([total.net.taxMinor, total.reclaimedMinor, total.payableMinor]).toEqual([0n, 50n, -50n]);
});

test('it throws where the areas do not come to what the documents say', () => {
  const [document] = facts.documents;
  if (document === undefined) throw new Error('no document');
  for (const wrong of [{ netMinor: 28342n }, { taxMinor: 148n }])
    expect(() => salesTaxReport({ ...facts, documents: [{ ...document, ...wrong }] })).toThrow(
      '2026-08, invoices',
    );
});

test('it throws where an exempt amount has no certificate to be exempt by', () => {
  const bases = [{ ...place, taxableMinor: 0n, exemptMinor: 2352n, nonTaxableMinor: 25991n }];
  expect(() => salesTaxReport({ ...facts, bases })).toThrow('not that of its certificates');
});
