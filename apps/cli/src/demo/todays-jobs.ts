import type { DemoJob } from './job.ts';
import { fabric, hardPlastic, urethane, vinyl } from './told-by.ts';
import { demoVehicle } from './vehicles.ts';

/** Work of the day on which the demo is made, at every point between written up and done. */
export const todaysJobs: readonly DemoJob[] = [
  {
    account: 'PL',
    technician: 'T1',
    day: null,
    time: '00:00',
    vehicle: demoVehicle('Corvane', 2021, 'red', 134),
    ownNumber: 'PL-255',
    lines: [
      {
        line: {
          part: 'armrest',
          damage: 'cut_or_tear',
          ...urethane,
          methods: ['cut_out', 'degrease', 'heat_cured_filler', 'spray_texture', 'mask'],
          measuredInches: '4.2',
          family: 'Urethane rebuild',
        },
        picture: { part: 'door_panel', trim: 'sand', damage: 'wear', inches: 4.2 },
        proof: [],
      },
      {
        line: {
          part: 'front_door_panel',
          side: 'left',
          damage: 'scuff',
          ...hardPlastic,
          methods: ['sand', 'mask', 'spray_texture'],
          measuredInches: '6',
          family: 'Scuff or scrape',
        },
        picture: { part: 'door_panel', trim: 'sand', damage: 'scuff', inches: 6 },
        proof: [],
      },
    ],
    until: 'awaiting_approval',
    approver: 'ravi@pennylantern.example.com',
  },
  {
    account: 'PL',
    technician: 'T1',
    day: null,
    time: '00:20',
    vehicle: demoVehicle('Luma', 2019, 'green', 135),
    ownNumber: 'PL-256',
    lines: [
      {
        line: {
          part: 'front_door_panel',
          side: 'right',
          damage: 'cut_or_tear',
          ...vinyl,
          methods: ['fill_cut', 'cold_grain'],
          measuredInches: '1.6',
          family: 'Vinyl cut or tear',
        },
        picture: { part: 'door_panel', trim: 'charcoal', damage: 'cut', inches: 1.6 },
        proof: ['progress'],
      },
      {
        line: {
          part: 'console',
          damage: 'drill_hole',
          ...hardPlastic,
          methods: ['fill_cut', 'spray_texture', 'mask'],
          rateCode: 'PL-H',
        },
        picture: { part: 'dash', trim: 'charcoal', damage: 'burn', inches: 0.3 },
        proof: [],
      },
    ],
    until: 'in_work',
    approver: 'ravi@pennylantern.example.com',
  },
  {
    account: 'RW',
    technician: 'T2',
    day: null,
    time: '00:40',
    vehicle: demoVehicle('Brisko', 2021, 'blue', 138),
    owner: { name: 'Hester Lindqvale', phone: '555-0163' },
    lines: [
      {
        line: {
          part: 'dash',
          damage: 'cut_or_tear',
          ...vinyl,
          methods: ['fill_cut', 'cold_grain', 'adjust_sheen', 'mask'],
          measuredInches: '0.9',
          family: 'Vinyl cut or tear',
        },
        picture: { part: 'dash', trim: 'graphite', damage: 'cut', inches: 0.9 },
        proof: ['after_heat', 'progress'],
      },
    ],
    until: 'done',
    approver: 'frontdesk@quillfeather.example.com',
  },
  {
    account: 'BG',
    technician: 'T2',
    day: null,
    time: '01:00',
    vehicle: demoVehicle('Ostra', 2026, 'copper', 140),
    ownNumber: 'BG-9248',
    owner: { name: 'Caspian Rooke', phone: '555-0188' },
    replacement: { amount: '1185.00', note: 'Parts counter, fitted' },
    lines: [
      {
        line: {
          part: 'front_door_panel',
          side: 'left',
          damage: 'cut_or_tear',
          ...urethane,
          methods: ['cut_out', 'degrease', 'heat_cured_filler', 'spray_texture', 'mask'],
          measuredInches: '2.4',
          family: 'Urethane rebuild',
          factorCode: 'new',
        },
        picture: { part: 'door_panel', trim: 'saddle', damage: 'tear', inches: 2.4 },
        proof: [],
      },
    ],
    until: 'approved',
    approver: 'maren@brackwater.example.com',
  },
  {
    account: 'TR',
    technician: 'T2',
    day: null,
    time: '01:20',
    vehicle: demoVehicle('Halden', 2017, 'gray', 124),
    ownNumber: '85',
    lines: [
      {
        line: {
          part: 'seat_cushion',
          side: 'right',
          damage: 'burn',
          ...fabric,
          methods: ['fill_cut'],
          measuredInches: '0.5',
          family: 'Cloth burn',
        },
        picture: { part: 'seat_bolster', trim: 'stone', damage: 'burn', inches: 0.5 },
        proof: [],
      },
    ],
    until: 'written_up',
    approver: 'ambrose@thistlewick.example.com',
  },
];
