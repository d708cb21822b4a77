import { repair } from './repairs.ts';
import { demoVehicle } from './vehicles.ts';
import type { DemoVisit } from './work-order.ts';

export const october: readonly DemoVisit[] = [
  {
    account: 'UF',
    technician: 'T3',
    day: '2026-10-02',
    time: '10:15',
    workOrders: [
      {
        vehicle: demoVehicle('Halden', 2025, 'red', 129),
        ownNumber: 'UF-358',
        owner: { name: 'Isaura Blenkin', phone: '555-0134' },
        lines: [repair('BN-S', { part: 'quarter_trim', side: 'left', inches: '0.4', trim: 'stone' })],
        until: 'accepted',
        signer: { name: 'Isaura Blenkin', role: 'vehicle_owner' },
      },
    ],
  },
  {
    account: 'PL',
    technician: 'T1',
    day: '2026-10-06',
    time: '08:30',
    workOrders: [
      {
        vehicle: demoVehicle('Ostra', 2018, 'white', 130),
        ownNumber: 'PL-251',
        lines: [
          repair('FB-S', { part: 'seat_cushion', side: 'left', inches: '0.4', trim: 'stone' }),
          repair('FB-S', { part: 'seat_back', side: 'left', inches: '0.3', trim: 'stone' }),
        ],
        until: 'accepted',
      },
      {
        vehicle: demoVehicle('Luma', 2017, 'blue', 131),
        ownNumber: 'PL-252',
        lines: [repair('BN-S', { part: 'seat_cushion', side: 'right', inches: '0.4', trim: 'graphite' })],
        until: 'accepted',
      },
      {
        vehicle: demoVehicle('Halden', 2020, 'black', 132),
        ownNumber: 'PL-253',
        lines: [
          repair('LW-P', { part: 'seat_bolster', side: 'left', trim: 'saddle' }),
          repair('SW-S', { part: 'steering_wheel' }),
          repair('PL-S', { part: 'dash', inches: '2', trim: 'graphite' }),
        ],
        until: 'accepted',
      },
      {
        vehicle: demoVehicle('Brisko', 2016, 'gray', 133),
        ownNumber: 'PL-254',
        lines: [repair('CP-M', { part: 'carpet', inches: '1.5', trim: 'graphite' })],
        until: 'accepted',
      },
      {
        vehicle: demoVehicle('Corvane', 2021, 'red', 134),
        ownNumber: 'PL-255',
        lines: [
          repair('PU-L', { part: 'armrest', inches: '4.2', trim: 'sand', declined: 'Going to auction' }),
          repair('SC-M', { part: 'front_door_panel', side: 'left', inches: '6', trim: 'sand' }),
        ],
        until: 'accepted',
        answeredBy: 'ravi@pennylantern.example.com',
      },
      {
        vehicle: demoVehicle('Luma', 2019, 'green', 135),
        ownNumber: 'PL-256',
        lines: [
          repair('VC-M', { part: 'front_door_panel', side: 'right', inches: '1.6' }),
          repair('PL-H', { part: 'console', trim: 'charcoal' }),
        ],
        until: 'accepted',
      },
      {
        vehicle: demoVehicle('Ostra', 2015, 'gold', 136),
        ownNumber: 'PL-257',
        lines: [repair('KF-1', { part: 'key_remote' })],
        until: 'accepted',
      },
    ],
  },
  {
    account: 'HD',
    technician: 'T1',
    day: '2026-10-14',
    time: '17:50',
    afterHours: true,
    workOrders: [
      {
        vehicle: demoVehicle('Halden', 2026, 'pearl', 137),
        roNumber: '48213',
        lines: [
          repair('LT-L', {
            part: 'seat_bolster',
            side: 'left',
            inches: '3.4',
            factor: 'perf',
            trim: 'saddle',
          }),
          repair('DB-M', {
            part: 'dash',
            inches: '2',
            trim: 'graphite',
            declined: 'The dash goes back to the maker',
          }),
          repair('LW-P', { part: 'seat_bolster', side: 'right', trim: 'saddle' }),
          repair('SC-S', { part: 'front_door_panel', side: 'left', inches: '2.4', trim: 'graphite' }),
        ],
        until: 'accepted',
        answeredBy: 'aldous@haldentessaly.example.com',
        poLater: { number: '77105', cap: '650.00', by: 'corbin@haldentessaly.example.com' },
        signer: { name: 'Linnet Vosper', role: 'account_representative' },
      },
    ],
  },
  {
    account: 'RW',
    technician: 'T2',
    day: '2026-10-20',
    time: '14:00',
    workOrders: [
      {
        vehicle: demoVehicle('Brisko', 2021, 'blue', 138),
        owner: { name: 'Lysander Fogg', phone: '555-0171' },
        odometerMiles: '45010',
        lines: [repair('VC-S', { part: 'dash', inches: '0.9', trim: 'graphite' })],
        until: 'accepted',
        answeredBy: 'in_person',
        signer: { name: 'Lysander Fogg', role: 'vehicle_owner' },
      },
    ],
  },
  {
    account: 'DR',
    technician: 'T3',
    day: '2026-10-27',
    time: '13:30',
    workOrders: [
      {
        vehicle: demoVehicle('Luma', 2022, 'white', 139),
        ownNumber: '077',
        lines: [
          repair('DB-M', { part: 'dash', inches: '2.7', trim: 'graphite' }),
          repair('SC-S', { part: 'rear_door_panel', side: 'left', inches: '2.2', trim: 'graphite' }),
        ],
        until: 'awaiting_approval',
      },
    ],
  },
  {
    account: 'BG',
    technician: 'T2',
    day: '2026-10-29',
    time: '09:40',
    workOrders: [
      {
        vehicle: demoVehicle('Ostra', 2026, 'copper', 140),
        ownNumber: 'BG-9248',
        owner: { name: 'Caspian Rooke', phone: '555-0188' },
        quotes: [
          { part: 'front_door_panel', side: 'left', amount: '1185.00', note: 'Parts counter, fitted' },
        ],
        lines: [
          repair('PU-M', {
            part: 'front_door_panel',
            side: 'left',
            inches: '2.4',
            factor: 'new',
            trim: 'saddle',
          }),
        ],
        until: 'written_up',
        hold: 'The owner is undecided and asks for a new panel.',
      },
    ],
  },
];
