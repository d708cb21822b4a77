import type { DemoJob } from './job.ts';
import { hardPlastic, leather, vinyl } from './told-by.ts';
import { demoVehicle } from './vehicles.ts';

const tailgate = {
  part: 'tailgate_lining',
  trim: 'charcoal',
  damage: 'cut',
  inches: 2.2,
  lifted: true,
} as const;

/** The vehicle that both businesses have seen, with the same VIN. */
const tailgateVela = demoVehicle('Ostra', 2025, 'slate', 104);

/** A glass installer cut a tailgate lining while setting a back glass; the installer pays, the owner has to accept. */
const tailgateCut: DemoJob = {
  account: 'BG',
  technician: 'T2',
  day: '2026-08-05',
  time: '09:10',
  vehicle: tailgateVela,
  ownNumber: 'BG-9107',
  owner: { name: 'Elowen Tarrish', phone: '555-0142' },
  odometerMiles: '8120',
  replacement: { amount: '940.00', note: 'Parts counter: lining 742.00, fitting 1.2 h at 165.00' },
  lines: [
    {
      line: {
        part: 'tailgate_lining',
        damage: 'wrinkle',
        visibleWhen: 'tailgate open',
        ...vinyl,
        methods: ['heat_flatten', 'cold_grain'],
        family: 'Wrinkle',
      },
      picture: tailgate,
      proof: ['after_heat'],
    },
    {
      line: {
        part: 'tailgate_lining',
        damage: 'cut_or_tear',
        visibleWhen: 'tailgate open',
        ...vinyl,
        methods: ['heat_flatten', 'fill_cut', 'cold_grain', 'mask', 'adjust_sheen'],
        measuredInches: '2.2',
        family: 'Vinyl cut or tear',
        note: 'Caught with the knife at the upper seam.',
      },
      picture: tailgate,
      proof: ['after_heat', 'progress'],
    },
  ],
  until: 'paid',
  approver: 'maren@brackwater.example.com',
  signer: { name: 'Elowen Tarrish', role: 'vehicle_owner' },
  payment: {
    on: '2026-08-20',
    method: 'card',
    amount: '284.90',
    applied: '284.90',
    reference: 'slip 5510',
  },
};

/** What lies behind: one paid, one partly paid, one to be invoiced. */
export const pastJobs: readonly DemoJob[] = [
  tailgateCut,
  {
    account: 'HD',
    technician: 'T1',
    day: '2026-08-07',
    time: '10:30',
    vehicle: demoVehicle('Halden', 2026, 'pearl', 105),
    roNumber: '48102',
    poNumber: '76951',
    odometerMiles: '14',
    lines: [
      {
        line: {
          part: 'seat_bolster',
          side: 'left',
          damage: 'cut_or_tear',
          ...leather,
          methods: ['fill_cut', 'cold_grain'],
          measuredInches: '0.8',
          family: 'Leather tear',
          factorCode: 'perf',
        },
        picture: { part: 'seat_bolster', trim: 'saddle', damage: 'tear', inches: 0.8 },
        proof: ['progress'],
      },
    ],
    until: 'invoiced',
    approver: 'linnet@haldentessaly.example.com',
    signer: { name: 'Linnet Vosper', role: 'account_representative' },
    payment: {
      on: '2026-09-04',
      method: 'ach',
      amount: '100.00',
      applied: '100.00',
      reference: '0904-HD',
    },
  },
  {
    account: 'DR',
    technician: 'T3',
    day: '2026-09-09',
    time: '13:05',
    vehicle: demoVehicle('Ostra', 2024, 'white', 121),
    ownNumber: '131',
    lines: [
      {
        line: {
          part: 'rear_door_panel',
          side: 'right',
          damage: 'scuff',
          ...hardPlastic,
          methods: ['sand', 'mask', 'spray_texture', 'spray_color'],
          measuredInches: '5',
          family: 'Scuff or scrape',
        },
        picture: { part: 'door_panel', trim: 'graphite', damage: 'scuff', inches: 5 },
        proof: ['progress'],
      },
      {
        line: {
          part: 'seat_cushion',
          side: 'left',
          damage: 'burn',
          observation: 'already_burnt',
          methods: ['fill_cut', 'cold_grain'],
          measuredInches: '0.4',
          family: 'Burn or shrink hole',
        },
        picture: { part: 'seat_bolster', trim: 'graphite', damage: 'burn', inches: 0.4 },
        proof: ['progress'],
      },
    ],
    until: 'accepted',
    approver: 'sunniva@dunmorerow.example.com',
  },
];

/** The second business saw the same vehicle for an account of the same name. */
export const marrowbyJobs: readonly DemoJob[] = [
  {
    ...tailgateCut,
    technician: 'PS',
    day: '2026-08-12',
    ownNumber: 'BG-9107',
    until: 'awaiting_approval',
    approver: 'tamsin@brackwater-marrowby.example.com',
  },
];
