import { type DemoAccount, demoAccounts } from './accounts.ts';
import { repair } from './repairs.ts';
import { demoVehicle } from './vehicles.ts';
import type { DemoVisit } from './work-order.ts';

function like(shortName: string): DemoAccount {
  const account = demoAccounts.find((each) => each.shortName === shortName);
  if (!account) throw new Error(`the demo has no account ${shortName}`);
  return account;
}

/** Accounts of the business that people click about in: terms like those of the demo's, other names. */
export const practiceAccounts: readonly DemoAccount[] = [
  {
    ...like('BG'),
    shortName: 'RG',
    name: 'Ridge & Gully Auto Glass',
    billingAddress: '61 Gully Road\nTessaly Bend',
    site: { name: 'Bay 2', address: '61 Gully Road, Tessaly Bend', miles: '11' },
    contacts: [
      { name: 'Verity Halloran', email: 'verity@ridgegully.example.com', role: 'approver', limit: '1000.00' },
    ],
  },
  {
    ...like('PL'),
    shortName: 'LM',
    name: 'Larkspur Motors',
    billingAddress: '5 Larkspur Way\nTessaly Bend',
    site: { name: 'Back row', address: '5 Larkspur Way, Tessaly Bend', miles: '7' },
    contacts: [
      { name: 'Jory Fennimore', email: 'jory@larkspur.example.com', role: 'approver', limit: '400.00' },
      { name: 'Alys Fennimore', email: 'alys@larkspur.example.com', role: 'payer', limit: null },
    ],
  },
  {
    ...like('RW'),
    contacts: [
      { name: 'Front desk', email: 'frontdesk@thornapple.example.com', role: 'approver', limit: null },
    ],
  },
];

const jory = 'jory@larkspur.example.com';

/** Work of the last days, at every point of its way, counted back from the moment the demo is made. */
export const practiceWeek: readonly DemoVisit[] = [
  {
    account: 'LM',
    technician: 'T1',
    day: { daysBack: 3 },
    time: '09:00',
    workOrders: [
      {
        vehicle: demoVehicle('Ostra', 2019, 'silver', 201),
        ownNumber: 'LM-31',
        lines: [repair('LW-P', { part: 'seat_bolster', side: 'left', trim: 'saddle' })],
        until: 'accepted',
      },
      {
        vehicle: demoVehicle('Luma', 2017, 'blue', 202),
        ownNumber: 'LM-32',
        lines: [repair('VC-M', { part: 'rear_door_panel', side: 'left', inches: '1.7' })],
        until: 'accepted',
      },
      {
        vehicle: demoVehicle('Brisko', 2016, 'white', 203),
        ownNumber: 'LM-33',
        lines: [repair('FB-S', { part: 'seat_cushion', side: 'left', inches: '0.4', trim: 'stone' })],
        until: 'written_up',
        voided: { reason: 'vehicle_not_there', note: 'At the wash; nobody had the key.' },
      },
    ],
  },
  {
    account: 'RG',
    technician: 'T1',
    day: { daysBack: 2 },
    time: '10:00',
    workOrders: [
      {
        vehicle: demoVehicle('Halden', 2024, 'red', 204),
        ownNumber: 'RG-770',
        owner: { name: 'Ottmar Selkirk', phone: '555-0147' },
        quotes: [{ part: 'tailgate_lining', amount: '860.00', note: 'Parts counter, fitted' }],
        lines: [
          repair('WR-1', { part: 'tailgate_lining' }),
          repair('VC-M', { part: 'tailgate_lining', inches: '2.4', lifted: true }),
        ],
        until: 'accepted',
        signer: { name: 'Ottmar Selkirk', role: 'vehicle_owner' },
      },
    ],
  },
  {
    account: 'RG',
    technician: 'T1',
    day: { daysBack: 1 },
    time: '09:30',
    workOrders: [
      {
        vehicle: demoVehicle('Corvane', 2023, 'ink', 205),
        ownNumber: 'RG-781',
        owner: { name: 'Philippa Morrow', phone: '555-0149' },
        lines: [repair('PL-S', { part: 'pillar_trim', side: 'right', inches: '1.8', trim: 'stone' })],
        until: 'done',
        unsigned: {
          why: 'absent',
          reason: 'The owner left for work before it was done.',
          witness: 'Verity Halloran',
        },
      },
      {
        vehicle: demoVehicle('Brisko', 2022, 'gray', 206),
        ownNumber: 'RG-782',
        owner: { name: 'Casimir Dent', phone: '555-0150' },
        lines: [repair('SC-S', { part: 'sill_trim', side: 'left', inches: '2.2', trim: 'graphite' })],
        until: 'done',
      },
    ],
  },
  {
    account: 'LM',
    technician: 'T2',
    day: { daysBack: 1 },
    time: '13:30',
    notInvoiced: true,
    workOrders: [
      {
        vehicle: demoVehicle('Ostra', 2020, 'green', 207),
        ownNumber: 'LM-36',
        lines: [repair('CP-M', { part: 'carpet', inches: '1.4', trim: 'graphite' })],
        until: 'accepted',
      },
      {
        vehicle: demoVehicle('Halden', 2018, 'gold', 208),
        ownNumber: 'LM-37',
        lines: [
          repair('PU-L', { part: 'armrest', inches: '4.4', trim: 'sand', declined: 'Goes to auction' }),
          repair('LW-P', {
            part: 'seat_bolster',
            side: 'left',
            trim: 'saddle',
            declined: 'Goes to auction',
          }),
        ],
        until: 'awaiting_approval',
        answeredBy: jory,
      },
    ],
  },
  {
    account: 'LM',
    technician: 'T1',
    day: { minutesBack: 300 },
    time: '',
    notInvoiced: true,
    workOrders: [
      {
        vehicle: demoVehicle('Corvane', 2021, 'yellow', 209),
        ownNumber: 'LM-41',
        lines: [
          repair('PU-L', { part: 'armrest', inches: '4.1', trim: 'sand' }),
          repair('SC-M', { part: 'front_door_panel', side: 'left', inches: '5', trim: 'sand' }),
        ],
        until: 'awaiting_approval',
      },
      {
        vehicle: demoVehicle('Luma', 2019, 'teal', 210),
        ownNumber: 'LM-42',
        lines: [repair('VC-S', { part: 'front_door_panel', side: 'right', inches: '0.8' })],
        until: 'in_work',
      },
      {
        vehicle: demoVehicle('Ostra', 2018, 'black', 211),
        ownNumber: 'LM-43',
        lines: [repair('DB-M', { part: 'dash', inches: '2.1', trim: 'graphite' })],
        until: 'approved',
      },
    ],
  },
  {
    account: 'RG',
    technician: 'T2',
    day: { minutesBack: 160 },
    time: '',
    workOrders: [
      {
        vehicle: demoVehicle('Ostra', 2026, 'copper', 212),
        ownNumber: 'RG-790',
        owner: { name: 'Jacinth Orme', phone: '555-0152' },
        quotes: [
          { part: 'front_door_panel', side: 'left', amount: '1210.00', note: 'Parts counter, fitted' },
        ],
        lines: [
          repair('PU-M', {
            part: 'front_door_panel',
            side: 'left',
            inches: '2.6',
            factor: 'new',
            trim: 'saddle',
          }),
        ],
        until: 'written_up',
        hold: 'The owner asks for a new panel first.',
      },
      {
        vehicle: demoVehicle('Halden', 2025, 'pearl', 213),
        ownNumber: 'RG-791',
        lines: [
          repair('VC-L', { part: 'tailgate_lining', inches: '4', lifted: true }),
          repair('WR-1', { part: 'tailgate_lining' }),
        ],
        until: 'awaiting_approval',
      },
    ],
  },
  {
    account: 'RW',
    technician: 'T2',
    day: { minutesBack: 60 },
    time: '',
    workOrders: [
      {
        vehicle: demoVehicle('Brisko', 2021, 'blue', 214),
        owner: { name: 'Lorcan Ames', phone: '555-0159' },
        odometerMiles: '30120',
        lines: [repair('SW-S', { part: 'steering_wheel' })],
        until: 'written_up',
      },
    ],
  },
];
