import { repair } from './repairs.ts';
import { demoVehicle } from './vehicles.ts';
import type { DemoVisit } from './work-order.ts';

export const september: readonly DemoVisit[] = [
  {
    account: 'BG',
    technician: 'T2',
    day: '2026-09-01',
    time: '10:00',
    workOrders: [
      {
        vehicle: demoVehicle('Luma', 2024, 'teal', 116),
        ownNumber: 'BG-9160',
        owner: { name: 'Roswitha Penhale', phone: '555-0118' },
        quotes: [{ amount: '1120.00', note: 'Parts counter, fitted' }],
        lines: [
          repair('VC-L', { part: 'tailgate_lining', inches: '4.5', lifted: true }),
          repair('WR-1', { part: 'tailgate_lining', side: 'left' }),
          repair('WR-1', { part: 'quarter_trim', side: 'left' }),
        ],
        until: 'accepted',
        answeredBy: 'leopold@brackwater.example.com',
        signer: { name: 'Roswitha Penhale', role: 'vehicle_owner' },
      },
    ],
  },
  {
    account: 'PL',
    technician: 'T1',
    day: '2026-09-03',
    time: '08:30',
    workOrders: [
      {
        vehicle: demoVehicle('Halden', 2018, 'gold', 117),
        ownNumber: 'PL-236',
        lines: [
          repair('LW-P', { part: 'seat_bolster', side: 'left', trim: 'sand' }),
          repair('LW-P', { part: 'seat_bolster', side: 'right', trim: 'sand' }),
        ],
        until: 'accepted',
      },
      {
        vehicle: demoVehicle('Luma', 2016, 'white', 118),
        ownNumber: 'PL-238',
        lines: [repair('KF-1', { part: 'key_remote' })],
        until: 'accepted',
      },
      {
        vehicle: demoVehicle('Brisko', 2019, 'orange', 119),
        ownNumber: 'PL-239',
        lines: [repair('VC-S', { part: 'rear_door_panel', side: 'left', inches: '0.9' })],
        until: 'written_up',
        voided: { reason: 'vehicle_not_there', note: 'Sold the evening before; nobody called it off.' },
      },
    ],
  },
  {
    account: 'UF',
    technician: 'T3',
    day: '2026-09-08',
    time: '09:20',
    workOrders: [
      {
        vehicle: demoVehicle('Corvane', 2026, 'ink', 106),
        ownNumber: 'UF-331',
        owner: { name: 'Orrin Vasek', phone: '555-0177' },
        lines: [repair('SC-S', { part: 'quarter_trim', side: 'right', inches: '2', trim: 'stone' })],
        until: 'accepted',
        reworkOf: { number: 1006, reason: 'finish' },
        signer: { name: 'Orrin Vasek', role: 'vehicle_owner' },
        technicianMinutes: 66,
        materialsCost: '6.40',
      },
    ],
  },
  {
    account: 'DR',
    technician: 'T3',
    day: '2026-09-09',
    time: '13:05',
    workOrders: [
      {
        vehicle: demoVehicle('Ostra', 2024, 'white', 121),
        ownNumber: '131',
        lines: [
          repair('SC-M', { part: 'rear_door_panel', side: 'right', inches: '5', trim: 'graphite' }),
          repair('BN-S', { part: 'seat_cushion', side: 'left', inches: '0.4', trim: 'graphite' }),
        ],
        until: 'accepted',
      },
    ],
  },
  {
    account: 'RW',
    technician: 'T2',
    day: '2026-09-11',
    time: '15:00',
    workOrders: [
      {
        vehicle: demoVehicle('Ostra', 2022, 'red', 122),
        owner: { name: 'Ambrosine Keel', phone: '555-0126' },
        odometerMiles: '38770',
        lines: [repair('SW-S', { part: 'steering_wheel' })],
        until: 'accepted',
        answeredBy: 'in_person',
        signer: { name: 'Ambrosine Keel', role: 'vehicle_owner' },
      },
    ],
  },
  {
    account: 'HD',
    technician: 'T1',
    day: '2026-09-15',
    time: '18:10',
    afterHours: true,
    workOrders: [
      {
        vehicle: demoVehicle('Halden', 2026, 'graphite', 123),
        roNumber: '48177',
        poNumber: '77034',
        lines: [
          repair('LT-M', { part: 'seat_back', side: 'right', inches: '1.6', trim: 'saddle' }),
          repair('SC-S', { part: 'front_door_panel', side: 'right', inches: '1.8', trim: 'graphite' }),
        ],
        until: 'accepted',
        signer: { name: 'Linnet Vosper', role: 'account_representative' },
      },
    ],
  },
  {
    account: 'TR',
    technician: 'T2',
    day: '2026-09-17',
    time: '09:45',
    workOrders: [
      {
        vehicle: demoVehicle('Halden', 2017, 'gray', 124),
        ownNumber: '85',
        lines: [
          repair('VC-M', { part: 'front_door_panel', side: 'left', inches: '2' }),
          repair('FB-S', { part: 'seat_cushion', side: 'right', inches: '0.5', trim: 'stone' }),
          repair('CP-M', { part: 'carpet', inches: '1.6', trim: 'graphite' }),
        ],
        until: 'accepted',
        answeredBy: 'ambrose@thistlewick.example.com',
      },
      {
        vehicle: demoVehicle('Brisko', 2014, 'green', 125),
        ownNumber: '86',
        lines: [
          repair('PU-L', {
            part: 'armrest',
            inches: '4',
            trim: 'sand',
            declined: 'Not worth it on this one',
          }),
        ],
        until: 'awaiting_approval',
        answeredBy: 'ambrose@thistlewick.example.com',
      },
    ],
  },
  {
    account: 'PL',
    technician: 'T1',
    day: '2026-09-22',
    time: '08:50',
    workOrders: [
      {
        vehicle: demoVehicle('Ostra', 2020, 'blue', 126),
        ownNumber: 'PL-244',
        lines: [repair('BN-S', { part: 'seat_cushion', side: 'left', inches: '0.5', trim: 'graphite' })],
        until: 'accepted',
      },
      {
        vehicle: demoVehicle('Corvane', 2019, 'white', 127),
        ownNumber: 'PL-245',
        lines: [
          repair('PL-S', { part: 'dash', inches: '1.4', trim: 'graphite' }),
          repair('PL-H', { part: 'console', trim: 'graphite' }),
        ],
        until: 'accepted',
      },
    ],
  },
  {
    account: 'BG',
    technician: 'T2',
    day: '2026-09-29',
    time: '11:30',
    workOrders: [
      {
        vehicle: demoVehicle('Brisko', 2023, 'silver', 128),
        ownNumber: 'BG-9203',
        owner: { name: 'Thaddeus Corliss', phone: '555-0155' },
        lines: [repair('PL-S', { part: 'pillar_trim', side: 'left', inches: '2.2', trim: 'stone' })],
        until: 'accepted',
        signer: { name: 'Thaddeus Corliss', role: 'vehicle_owner' },
      },
    ],
  },
];
