/** The figures of a published example invoice. Amounts are decimals; parties and wording are left out. */
export interface ExampleInvoice {
  readonly id: string;
  /** Repository, commit and path. */
  readonly source: string;
  /** Amount, tax category, rate. */
  readonly lines: readonly string[];
  readonly allowances: readonly string[];
  readonly charges: readonly string[];
  /** Taxable amount, tax category, rate, tax. */
  readonly taxes: readonly string[];
  readonly tax: string;
  readonly linesTotal: string;
  readonly allowancesTotal: string;
  readonly chargesTotal: string;
  readonly withoutTax: string;
  readonly withTax: string;
  readonly prepaid: string;
  readonly rounding: string;
  readonly due: string;
}

/** Example invoices and credit notes of EN 16931 and Peppol BIS Billing 3. Only tests read this file. */
export const exampleInvoices: readonly ExampleInvoice[] = [
  {
    id: 'BIS3_Invoice_positive',
    source:
      'ConnectingEurope/eInvoicing-EN16931@b6c9e06a59812fb1a83585da40923b3678a649ad ubl/examples/BIS3_Invoice_positive.XML',
    lines: ['625743.54 S 25'],
    allowances: [],
    charges: [],
    taxes: ['625743.54 S 25 156435.89'],
    tax: '156435.89',
    linesTotal: '625743.54',
    allowancesTotal: '0',
    chargesTotal: '0',
    withoutTax: '625743.54',
    withTax: '782179.43',
    prepaid: '0',
    rounding: '0',
    due: '782179.43',
  },
  {
    id: 'Norwegian-example-1',
    source:
      'OpenPEPPOL/peppol-bis-invoice-3@78d7f7dfa223f39f8ebd8d35c127f2690e646322 rules/national-examples/NO/Norwegian-example-1.xml',
    lines: ['1273 S 25', '-3.96 S 15', '4.96 S 15', '-25 E 0', '187.5 S 25'],
    allowances: ['100 S 25'],
    charges: ['100 S 25'],
    taxes: ['1460.5 S 25 365.13', '1 S 15 0.15', '-25 E 0 0'],
    tax: '365.28',
    linesTotal: '1436.5',
    allowancesTotal: '100',
    chargesTotal: '100',
    withoutTax: '1436.5',
    withTax: '1801.78',
    prepaid: '1000',
    rounding: '0.22',
    due: '802.00',
  },
  {
    id: 'guide-example2',
    source:
      'ConnectingEurope/eInvoicing-EN16931@b6c9e06a59812fb1a83585da40923b3678a649ad ubl/examples/guide-example2.xml',
    lines: ['1273.00 S 25', '-3.96 S 15', '4.96 S 15', '-25.00 E 0', '187.50 S 25'],
    allowances: ['100.00 S 25'],
    charges: ['100.00 S 25'],
    taxes: ['1460.50 S 25 365.13', '1.00 S 15 0.15', '-25.00 E 0 0.00'],
    tax: '365.28',
    linesTotal: '1436.50',
    allowancesTotal: '100.00',
    chargesTotal: '100.00',
    withoutTax: '1436.50',
    withTax: '1801.78',
    prepaid: '1000.00',
    rounding: '0',
    due: '801.78',
  },
  {
    id: 'ubl-tc434-example5',
    source:
      'ConnectingEurope/eInvoicing-EN16931@b6c9e06a59812fb1a83585da40923b3678a649ad ubl/examples/ubl-tc434-example5.xml',
    lines: ['1000.00 S 25', '500.00 S 25', '2500.00 S 12'],
    allowances: ['150.00 S 25'],
    charges: ['150.00 S 25'],
    taxes: ['1500.00 S 25 375.00', '2500.00 S 12 300.00'],
    tax: '675.00',
    linesTotal: '4000.00',
    allowancesTotal: '150.00',
    chargesTotal: '150.00',
    withoutTax: '4000.00',
    withTax: '4675.00',
    prepaid: '2337.50',
    rounding: '0',
    due: '2337.50',
  },
  {
    id: 'sample-discount-price',
    source:
      'ConnectingEurope/eInvoicing-EN16931@b6c9e06a59812fb1a83585da40923b3678a649ad ubl/examples/sample-discount-price.xml',
    lines: ['12.12 S 25'],
    allowances: [],
    charges: [],
    taxes: ['12.12 S 25 3.03'],
    tax: '3.03',
    linesTotal: '12.12',
    allowancesTotal: '0',
    chargesTotal: '0',
    withoutTax: '12.12',
    withTax: '15.15',
    prepaid: '0',
    rounding: '0',
    due: '15.15',
  },
  {
    id: 'Vat-category-S',
    source:
      'OpenPEPPOL/peppol-bis-invoice-3@78d7f7dfa223f39f8ebd8d35c127f2690e646322 rules/examples/Vat-category-S.xml',
    lines: ['4000.00 S 25.0', '2000.00 S 15.0', '900.00 S 25.0'],
    allowances: ['100 S 25'],
    charges: ['200 S 25'],
    taxes: ['5000.0 S 25 1250', '2000.0 S 15 300'],
    tax: '1550.00',
    linesTotal: '6900',
    allowancesTotal: '100',
    chargesTotal: '200',
    withoutTax: '7000',
    withTax: '8550',
    prepaid: '0',
    rounding: '0',
    due: '8550',
  },
  {
    id: 'base-creditnote-correction',
    source:
      'OpenPEPPOL/peppol-bis-invoice-3@78d7f7dfa223f39f8ebd8d35c127f2690e646322 rules/examples/base-creditnote-correction.xml',
    lines: ['2800 S 25.0', '-1500 S 25.0'],
    allowances: [],
    charges: ['25 S 25.0'],
    taxes: ['1325 S 25.0 331.25'],
    tax: '331.25',
    linesTotal: '1300',
    allowancesTotal: '0',
    chargesTotal: '25',
    withoutTax: '1325',
    withTax: '1656.25',
    prepaid: '0',
    rounding: '0',
    due: '1656.25',
  },
  {
    id: 'ubl-tc434-creditnote1',
    source:
      'ConnectingEurope/eInvoicing-EN16931@b6c9e06a59812fb1a83585da40923b3678a649ad ubl/examples/ubl-tc434-creditnote1.xml',
    lines: ['100.11 E 0.00'],
    allowances: [],
    charges: [],
    taxes: ['100.11 E 0.00 0.00'],
    tax: '0.00',
    linesTotal: '100.11',
    allowancesTotal: '0',
    chargesTotal: '0',
    withoutTax: '100.11',
    withTax: '100.11',
    prepaid: '0',
    rounding: '0',
    due: '100.11',
  },
  {
    id: 'ubl-tc434-example1',
    source:
      'ConnectingEurope/eInvoicing-EN16931@b6c9e06a59812fb1a83585da40923b3678a649ad ubl/examples/ubl-tc434-example1.xml',
    lines: [
      '19.90 S 6',
      '9.85 S 6',
      '8.29 S 6',
      '14.46 S 6',
      '35.00 S 6',
      '35.00 S 6',
      '10.65 S 6',
      '1.55 S 6',
      '14.37 S 6',
      '8.29 S 6',
      '16.58 S 6',
      '9.95 S 6',
      '3.30 S 6',
      '10.80 S 21',
      '3.90 S 6',
      '7.60 S 21',
      '9.34 S 21',
      '18.63 S 21',
      '102.12 S 6',
      '-109.98 S 6',
    ],
    allowances: [],
    charges: [],
    taxes: ['183.23 S 6 10.99', '46.37 S 21 9.74'],
    tax: '20.73',
    linesTotal: '229.60',
    allowancesTotal: '0',
    chargesTotal: '0',
    withoutTax: '229.60',
    withTax: '250.33',
    prepaid: '0',
    rounding: '0',
    due: '250.33',
  },
];
