import type { AddAccountInput, SetStandingApprovalInput } from '@grainwright/operations';

/**
 * The demo's accounts, all invented: who they are, how they buy, where they stand, and who answers for them.
 * Amounts are decimal strings in US dollars.
 */
export interface DemoAccount extends Omit<AddAccountInput, 'id' | 'openedOn' | 'showsPricesAtAcceptance'> {
  readonly site: { readonly name: string; readonly address: string; readonly miles: string };
  readonly contacts: readonly DemoContact[];
  /** What is approved without anybody asking; the text is the account's own words. */
  readonly standing?: Pick<SetStandingApprovalInput, 'perVehicle' | 'perVisit' | 'perMonth' | 'text'>;
  readonly certificate?: { readonly number: string; readonly validFrom: string; readonly validTo: string };
  readonly ownPrice?: {
    readonly code: string;
    readonly price: string;
    readonly validFrom: string;
    readonly reason: string;
  };
}

export interface DemoContact {
  readonly name: string;
  readonly email: string;
  readonly role: 'approver' | 'payer' | 'viewer';
  readonly limit: string | null;
}

const trade = {
  tierCode: 'trade',
  statementKind: 'open_item',
  invoiceRule: 'at_once',
  requiresRo: false,
  requiresPo: false,
  walkIn: false,
} as const;
const lot = {
  tierCode: 'lot',
  statementKind: 'balance_forward',
  invoiceRule: 'per_visit',
  requiresRo: false,
  requiresPo: false,
  walkIn: false,
  photoRule: 'lot',
} as const;

export const demoAccounts: readonly DemoAccount[] = [
  {
    ...trade,
    shortName: 'BG',
    name: 'Brackwater Glass & Screen',
    kind: 'glass_installer',
    billingAddress: '310 Weir Street\nTessaly Bend',
    taxAreaCode: 'A',
    termsDays: 15,
    ownNumberKind: 'job',
    ownNumberRequired: true,
    acceptanceRule: 'vehicle_owner',
    photoRule: 'trade',
    site: { name: 'Brackwater bay', address: '310 Weir Street, Tessaly Bend', miles: '12' },
    standing: {
      perVehicle: '350.00',
      perVisit: null,
      perMonth: null,
      text: 'Our own damage up to 350.00 a vehicle: go ahead.',
    },
    contacts: [
      {
        name: 'Maren Holloway-Dux',
        email: 'maren@brackwater.example.com',
        role: 'approver',
        limit: '350.00',
      },
      {
        name: 'Leopold Brackwater-Nye',
        email: 'leopold@brackwater.example.com',
        role: 'approver',
        limit: '1000.00',
      },
      { name: 'Piet Lanthorn', email: 'piet@brackwater.example.com', role: 'payer', limit: null },
    ],
  },
  {
    ...trade,
    shortName: 'UF',
    name: 'Umbral Film Works',
    kind: 'tint_shop',
    billingAddress: '7 Harbor Rise\nPort Orrin',
    taxAreaCode: 'B',
    termsDays: 15,
    ownNumberKind: 'job',
    ownNumberRequired: true,
    acceptanceRule: 'vehicle_owner',
    photoRule: 'trade',
    site: { name: 'Film bay', address: '7 Harbor Rise, Port Orrin', miles: '26' },
    standing: {
      perVehicle: '300.00',
      perVisit: null,
      perMonth: null,
      text: 'Up to 300.00 a vehicle without asking.',
    },
    contacts: [
      { name: 'Iselin Torvane', email: 'iselin@umbral.example.com', role: 'approver', limit: '1000.00' },
      { name: 'Bram Okersley', email: 'bram@umbral.example.com', role: 'approver', limit: '300.00' },
    ],
  },
  {
    ...lot,
    shortName: 'PL',
    name: 'Penny Lantern Autos',
    kind: 'used_car_lot',
    billingAddress: '88 Lantern Row\nTessaly Bend',
    taxAreaCode: 'A',
    termsDays: 10,
    ownNumberKind: 'stock',
    ownNumberRequired: true,
    acceptanceRule: 'none',
    site: { name: 'Front row', address: '88 Lantern Row, Tessaly Bend', miles: '8' },
    standing: {
      perVehicle: '250.00',
      perVisit: '1200.00',
      perMonth: null,
      text: 'Row work: 250.00 a car, 1,200.00 a visit.',
    },
    noShowFee: '55.00',
    contacts: [
      { name: 'Ravi Stellmacher', email: 'ravi@pennylantern.example.com', role: 'approver', limit: '250.00' },
      { name: 'Odile Marchbank', email: 'odile@pennylantern.example.com', role: 'payer', limit: null },
    ],
    certificate: { number: 'KV-RS-20417', validFrom: '2025-07-01', validTo: '2027-06-30' },
  },
  {
    ...trade,
    tierCode: 'dealer',
    shortName: 'HD',
    name: 'Halden of Tessaly, Service',
    kind: 'new_car_dealer',
    billingAddress: '1200 Meridian Way\nTessaly Bend',
    taxAreaCode: 'A',
    termsDays: 30,
    requiresRo: true,
    requiresPo: true,
    ownNumberKind: null,
    ownNumberRequired: false,
    acceptanceRule: 'account_representative',
    photoRule: 'trade',
    site: { name: 'Service lane', address: '1200 Meridian Way, Tessaly Bend', miles: '14' },
    standing: {
      perVehicle: '400.00',
      perVisit: null,
      perMonth: null,
      text: 'Up to 400.00 a vehicle on the RO.',
    },
    contacts: [
      { name: 'Linnet Vosper', email: 'linnet@haldentessaly.example.com', role: 'approver', limit: '400.00' },
      {
        name: 'Aldous Merrin',
        email: 'aldous@haldentessaly.example.com',
        role: 'approver',
        limit: '1500.00',
      },
      { name: 'Corbin Ashgrove', email: 'corbin@haldentessaly.example.com', role: 'payer', limit: null },
    ],
    certificate: { number: 'KV-RS-18832', validFrom: '2024-10-01', validTo: '2026-09-30' },
  },
  {
    ...trade,
    invoiceRule: 'per_visit',
    shortName: 'DR',
    name: 'Dunmore Row Fleet Hire',
    kind: 'rental',
    billingAddress: '45 Dunmore Row\nPort Orrin',
    taxAreaCode: 'B',
    termsDays: 30,
    ownNumberKind: 'unit',
    ownNumberRequired: true,
    acceptanceRule: 'none',
    photoRule: 'trade',
    site: { name: 'Return yard', address: '45 Dunmore Row, Port Orrin', miles: '9' },
    standing: {
      perVehicle: '250.00',
      perVisit: null,
      perMonth: null,
      text: 'Returns: 250.00 a unit.',
    },
    contacts: [
      { name: 'Sunniva Graye', email: 'sunniva@dunmorerow.example.com', role: 'approver', limit: '250.00' },
    ],
    ownPrice: {
      code: 'BN-S',
      price: '90.00',
      validFrom: '2026-07-01',
      reason: 'fleet price agreed for cigarette burns',
    },
  },
  {
    ...lot,
    shortName: 'TR',
    name: 'Thistlewick Remarketing',
    kind: 'wholesaler',
    billingAddress: '600 Paddock Road\nUpper Thistlewick',
    taxAreaCode: 'A',
    termsDays: 15,
    ownNumberKind: 'lot',
    ownNumberRequired: true,
    acceptanceRule: 'none',
    site: { name: 'Auction paddock', address: '600 Paddock Road, Upper Thistlewick', miles: '24' },
    contacts: [
      { name: 'Ambrose Tull', email: 'ambrose@thistlewick.example.com', role: 'approver', limit: '600.00' },
    ],
    certificate: { number: 'KV-RS-22090', validFrom: '2025-04-01', validTo: '2027-03-31' },
  },
  {
    ...trade,
    tierCode: 'retail',
    shortName: 'RW',
    name: 'Walk-in (house account)',
    kind: 'retail',
    billingAddress: '',
    taxAreaCode: 'B',
    termsDays: 0,
    statementKind: 'none',
    ownNumberKind: null,
    ownNumberRequired: false,
    acceptanceRule: 'vehicle_owner',
    photoRule: 'retail',
    walkIn: true,
    site: { name: 'Our own bay', address: '14 Tanner Row, Tessaly Bend', miles: '0' },
    contacts: [
      { name: 'Front desk', email: 'frontdesk@quillfeather.example.com', role: 'approver', limit: null },
    ],
  },
];

/** The second business has an account of the same name, on purpose: nothing of one may show up at the other. */
export const marrowbyAccount: DemoAccount = {
  ...trade,
  shortName: 'BG',
  name: 'Brackwater Glass & Screen',
  kind: 'glass_installer',
  billingAddress: '2 Ferry Steps\nMarrowby',
  taxAreaCode: 'A',
  termsDays: 30,
  ownNumberKind: 'job',
  ownNumberRequired: true,
  acceptanceRule: 'vehicle_owner',
  photoRule: 'trade',
  site: { name: 'Ferry bay', address: '2 Ferry Steps, Marrowby', miles: '5' },
  contacts: [
    {
      name: 'Tamsin Rook',
      email: 'tamsin@brackwater-marrowby.example.com',
      role: 'approver',
      limit: '500.00',
    },
  ],
};
