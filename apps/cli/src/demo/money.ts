/** Money of the demo that comes, goes back or is credited, each on its own day. Amounts are decimal strings in US dollars. */
export type DemoMoney =
  | {
      readonly kind: 'deposit';
      readonly on: string;
      readonly account: string;
      readonly method: string;
      readonly amount: string;
      readonly reference: string;
    }
  | {
      readonly kind: 'payment';
      readonly on: string;
      readonly account: string;
      readonly method: string;
      readonly amount: string;
      readonly reference: string;
      /** Invoice number and amount. Nothing is applied by itself. */
      readonly applied: readonly (readonly [invoice: string, amount: string])[];
      /** What the payer leaves open, and why: invoice, amount, code of the line, words. */
      readonly short?: {
        readonly invoice: string;
        readonly amount: string;
        readonly code: string;
        readonly note: string;
      };
    }
  | { readonly kind: 'returned'; readonly on: string; readonly reference: string; readonly reason: string }
  | {
      readonly kind: 'disputed';
      readonly on: string;
      readonly account: string;
      readonly invoice: string;
      /** The line, by its rate's code, and how much of it is not agreed with. */
      readonly code: string;
      readonly amount: string;
      /** The contact who says so. */
      readonly by: string;
      readonly note: string;
    }
  | {
      readonly kind: 'credited';
      readonly on: string;
      readonly invoice: string;
      readonly reason: string;
      /** A line by its code: priced again at a measured size, or dropped. */
      readonly line?: { readonly code: string; readonly inches: string | null };
      /** A certificate that came in late, which covers the day of work. */
      readonly certificate?: {
        readonly number: string;
        readonly validFrom: string;
        readonly validTo: string;
      };
    };

export const demoMoney: readonly DemoMoney[] = [
  deposit('2026-08-10', 'RW', 'card', '120.00', 'slip 5498'),
  deposit('2026-08-11', 'UF', 'check', '200.00', '3310'),
  payment('2026-08-12', 'RW', 'check', '210.69', '1187', ['INV-2005', '210.69']),
  payment('2026-08-13', 'PL', 'check', '357.78', '20455', ['INV-2001', '357.78']),
  { kind: 'returned', on: '2026-08-19', reference: '1187', reason: 'Not sufficient funds' },
  payment('2026-08-20', 'BG', 'card', '284.90', 'slip 5510', ['INV-2002', '284.90']),
  payment('2026-08-24', 'RW', 'card', '210.69', 'slip 5522', ['INV-2005', '210.69']),
  payment('2026-09-01', 'TR', 'check', '600.00', '7719', ['INV-2007', '521.08']),
  payment('2026-09-04', 'HD', 'ach', '185.63', '0904-HD', ['INV-2003', '185.63']),
  {
    ...payment('2026-09-10', 'UF', 'check', '408.62', '3342', ['INV-2004', '408.62']),
    short: {
      invoice: 'INV-2004',
      amount: '63.75',
      code: 'RI-1',
      note: 'We never asked to take the trim off.',
    },
  },
  payment('2026-09-11', 'RW', 'card', '175.73', 'slip 5561', ['INV-2013', '175.73']),
  payment('2026-09-12', 'PL', 'check', '565.58', '20511', ['INV-2008', '207.25'], ['INV-2011', '358.33']),
  payment('2026-09-14', 'DR', 'ach', '363.17', '0914-DR', ['INV-2006', '363.17']),
  payment('2026-09-18', 'BG', 'check', '500.00', '880', ['INV-2010', '426.78']),
  payment('2026-09-25', 'HD', 'ach', '210.38', '0925-HD', ['INV-2009', '210.38']),
  payment('2026-10-05', 'PL', 'check', '242.45', '20587', ['INV-2016', '242.45']),
  payment('2026-10-15', 'HD', 'ach', '337.88', '1015-HD', ['INV-2014', '337.88']),
  payment('2026-10-16', 'BG', 'ach', '220.70', '1016-BG', ['INV-2017', '170.70']),
  {
    kind: 'disputed',
    on: '2026-10-19',
    account: 'HD',
    invoice: 'INV-2020',
    code: 'LT-L',
    amount: '93.75',
    by: 'corbin@haldentessaly.example.com',
    note: 'The ruler in the picture shows 2.6 in, not over 3.',
  },
  payment('2026-10-20', 'RW', 'card', '159.75', 'slip 5604', ['INV-2021', '159.75']),
  {
    kind: 'credited',
    on: '2026-10-21',
    invoice: 'INV-2020',
    reason: 'The ruler picture shows 2.6 in: billed in the band that was measured.',
    line: { code: 'LT-L', inches: '2.6' },
  },
  {
    kind: 'credited',
    on: '2026-10-26',
    invoice: 'INV-2020',
    reason: 'Tax only: a resale certificate that covers the day of work came in.',
    certificate: { number: 'KV-RS-25301', validFrom: '2026-10-01', validTo: '2028-09-30' },
  },
  {
    kind: 'credited',
    on: '2026-11-05',
    invoice: 'INV-2004',
    reason: 'Taking the trim off was agreed to be on us.',
    line: { code: 'RI-1', inches: null },
  },
];

function deposit(on: string, account: string, method: string, amount: string, reference: string): DemoMoney {
  return { kind: 'deposit', on, account, method, amount, reference };
}

function payment(
  on: string,
  account: string,
  method: string,
  amount: string,
  reference: string,
  ...applied: readonly (readonly [invoice: string, amount: string])[]
) {
  return { kind: 'payment', on, account, method, amount, reference, applied } as const;
}
