import { repair } from './repairs.ts';
import { demoVehicle } from './vehicles.ts';
import type { DemoVisit } from './work-order.ts';

/** The vehicle that both businesses have seen, with the same VIN. */
export const tailgateVela = demoVehicle('Ostra', 2025, 'slate', 104);

/** The driver of a six-week-old car: the tint shop's customer, who wanted new trims. */
const orrin = { name: 'Orrin Vasek', phone: '555-0177' };
const t4OfOrrin = demoVehicle('Corvane', 2026, 'ink', 106);

const newTrim = (side: string) => ({
  part: 'quarter_trim',
  side,
  partPrice: '1280.00',
  fittingHours: '0.9',
  hourlyRate: '165.00',
  note: 'The dealer',
});

/** A glass installer cut a tailgate lining while setting a back glass; the installer pays, the owner has to accept. */
export const tailgateVisit: DemoVisit = {
  account: 'BG',
  technician: 'T2',
  day: '2026-08-05',
  time: '09:10',
  workOrders: [
    {
      vehicle: tailgateVela,
      ownNumber: 'BG-9107',
      owner: { name: 'Elowen Tarrish', phone: '555-0142' },
      odometerMiles: '8120',
      quotes: [
        {
          part: 'tailgate_lining',
          partPrice: '742.00',
          fittingHours: '1.2',
          hourlyRate: '165.00',
          note: 'Parts counter',
        },
      ],
      lines: [
        repair('WR-1', {
          part: 'tailgate_lining',
          visibleWhen: 'tailgate open',
          damage: 'cut',
          inches: '2.2',
          lifted: true,
          told: { measuredInches: '' },
        }),
        repair('VC-M', {
          part: 'tailgate_lining',
          visibleWhen: 'tailgate open',
          inches: '2.2',
          lifted: true,
          note: 'Caught with the knife at the upper seam.',
        }),
      ],
      until: 'accepted',
      signer: { name: 'Elowen Tarrish', role: 'vehicle_owner' },
      technicianMinutes: 95,
    },
  ],
};

export const august: readonly DemoVisit[] = [
  {
    account: 'PL',
    technician: 'T1',
    day: '2026-08-03',
    time: '08:40',
    workOrders: [
      {
        vehicle: demoVehicle('Ostra', 2019, 'silver', 101),
        ownNumber: 'PL-220',
        lines: [
          repair('FB-S', { part: 'seat_cushion', side: 'left', inches: '0.4', trim: 'stone' }),
          repair('CP-M', { part: 'carpet', side: 'left', inches: '1.2', trim: 'graphite' }),
        ],
        until: 'accepted',
      },
      {
        vehicle: demoVehicle('Brisko', 2017, 'blue', 102),
        ownNumber: 'PL-221',
        lines: [
          repair('VC-M', { part: 'rear_door_panel', side: 'right', inches: '1.8' }),
          repair('PL-S', { part: 'console', inches: '2.5', trim: 'graphite' }),
        ],
        until: 'accepted',
      },
      {
        vehicle: demoVehicle('Luma', 2020, 'green', 103),
        ownNumber: 'PL-224',
        lines: [repair('LW-P', { part: 'seat_bolster', side: 'left', trim: 'saddle' })],
        until: 'accepted',
      },
    ],
  },
  tailgateVisit,
  {
    account: 'HD',
    technician: 'T1',
    day: '2026-08-07',
    time: '10:30',
    workOrders: [
      {
        vehicle: demoVehicle('Halden', 2026, 'pearl', 105),
        roNumber: '48102',
        poNumber: '76951',
        odometerMiles: '14',
        lines: [
          repair('LT-S', {
            part: 'seat_bolster',
            side: 'left',
            inches: '0.8',
            factor: 'perf',
            trim: 'saddle',
          }),
        ],
        until: 'accepted',
        signer: { name: 'Linnet Vosper', role: 'account_representative' },
      },
    ],
  },
  {
    account: 'UF',
    technician: 'T3',
    day: '2026-08-11',
    time: '09:00',
    workOrders: [
      {
        vehicle: t4OfOrrin,
        ownNumber: 'UF-331',
        owner: orrin,
        odometerMiles: '1904',
        quotes: [newTrim('left'), newTrim('right')],
        lines: [
          repair('BN-M', { part: 'quarter_trim', side: 'left', inches: '1.4', factor: 'new', trim: 'stone' }),
          repair('BN-L', {
            part: 'quarter_trim',
            side: 'right',
            inches: '3.1',
            factor: 'new',
            trim: 'stone',
          }),
          repair('RI-1', { part: 'quarter_trim', side: 'right' }),
          repair('CM-1', {
            part: 'quarter_trim',
            side: 'right',
            note: 'Not in the book; mixed to the left trim.',
          }),
        ],
        until: 'accepted',
        answeredBy: 'iselin@umbral.example.com',
        stopPoint: 'Lower seam: more heat would open the weld, so a faint edge stays.',
        signer: {
          name: orrin.name,
          role: 'vehicle_owner',
          remark:
            'Right trim: a faint edge in low sun along the lower seam. Touch-up promised by September 8.',
        },
        technicianMinutes: 205,
      },
    ],
  },
  {
    account: 'RW',
    technician: 'T2',
    day: '2026-08-12',
    time: '09:30',
    workOrders: [
      {
        vehicle: demoVehicle('Luma', 2018, 'red', 107),
        owner: { name: 'Hester Lindqvale', phone: '555-0163' },
        odometerMiles: '61250',
        lines: [repair('LT-M', { part: 'seat_back', side: 'left', inches: '2.1', trim: 'saddle' })],
        foundLater: [
          repair('SC-S', { part: 'front_door_panel', side: 'left', inches: '2', trim: 'graphite' }),
        ],
        until: 'accepted',
        answeredBy: 'in_person',
        signer: { name: 'Hester Lindqvale', role: 'vehicle_owner' },
      },
    ],
  },
  {
    account: 'DR',
    technician: 'T3',
    day: '2026-08-14',
    time: '13:00',
    workOrders: [
      {
        vehicle: demoVehicle('Brisko', 2024, 'white', 108),
        ownNumber: '118',
        lines: [
          repair('BN-S', { part: 'seat_cushion', side: 'left', inches: '0.3', trim: 'graphite' }),
          repair('BN-S', { part: 'seat_back', side: 'left', inches: '0.4', trim: 'graphite' }),
        ],
        until: 'accepted',
      },
      {
        vehicle: demoVehicle('Luma', 2023, 'white', 109),
        ownNumber: '094',
        lines: [repair('FB-M', { part: 'seat_cushion', side: 'right', inches: '1.1', trim: 'stone' })],
        until: 'accepted',
      },
    ],
  },
  {
    account: 'TR',
    technician: 'T1',
    day: '2026-08-18',
    time: '08:15',
    workOrders: [
      {
        vehicle: demoVehicle('Ostra', 2016, 'gray', 110),
        ownNumber: '71',
        lines: [repair('DB-M', { part: 'dash', inches: '2.4', trim: 'graphite' })],
        until: 'accepted',
        answeredBy: 'ambrose@thistlewick.example.com',
      },
      {
        vehicle: demoVehicle('Corvane', 2015, 'black', 111),
        ownNumber: '74',
        lines: [
          repair('SW-L', { part: 'steering_wheel' }),
          repair('LW-F', { part: 'seat_cushion', side: 'left', trim: 'saddle' }),
        ],
        until: 'accepted',
        answeredBy: 'ambrose@thistlewick.example.com',
      },
      {
        vehicle: demoVehicle('Brisko', 2018, 'white', 112),
        ownNumber: '77',
        lines: [repair('HL-M', { part: 'headliner', inches: '1.9', trim: 'stone' })],
        until: 'accepted',
        answeredBy: 'ambrose@thistlewick.example.com',
      },
    ],
  },
  {
    account: 'PL',
    technician: 'T2',
    day: '2026-08-21',
    time: '14:10',
    workOrders: [
      {
        vehicle: demoVehicle('Ostra', 2019, 'silver', 101),
        ownNumber: 'PL-220',
        lines: [repair('CP-M', { part: 'carpet', side: 'left', inches: '1.2', trim: 'graphite' })],
        until: 'written_up',
        voided: { reason: 'duplicate', note: 'The carpet was done on August 3.', duplicateOf: 1001 },
      },
      {
        vehicle: demoVehicle('Corvane', 2021, 'yellow', 114),
        ownNumber: 'PL-230',
        lines: [repair('PU-M', { part: 'armrest', inches: '2.2', trim: 'sand' })],
        until: 'accepted',
      },
    ],
  },
  {
    account: 'HD',
    technician: 'T1',
    day: '2026-08-26',
    time: '11:00',
    workOrders: [
      {
        vehicle: demoVehicle('Halden', 2025, 'blue', 115),
        roNumber: '48133',
        poNumber: '76988',
        lines: [
          repair('PL-H', { part: 'console', trim: 'graphite' }),
          repair('SC-S', { part: 'sill_trim', side: 'left', inches: '2.6', trim: 'graphite' }),
        ],
        until: 'accepted',
        signer: { name: 'Linnet Vosper', role: 'account_representative' },
      },
    ],
  },
];
