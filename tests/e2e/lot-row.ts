import { repair } from '../../apps/cli/src/demo/repairs.ts';
import { type DemoVehicle, demoVehicle } from '../../apps/cli/src/demo/vehicles.ts';
import type { DemoLine } from '../../apps/cli/src/demo/work-order.ts';

export interface InTheRow {
  readonly stock: string;
  readonly estimate: string;
  readonly subtotal: string;
  readonly vehicle: DemoVehicle;
  readonly lines: readonly DemoLine[];
}

/**
 * Seven vehicles of a used-car lot, by the number on the windshield; the figures were agreed beforehand and computed by
 * two programs written apart: what each is written up at, and what it comes to under the lot's tier and minimum of
 * 65.00 once its lines are answered.
 */
export const lotRow: readonly InTheRow[] = [
  {
    stock: 'PL-251',
    estimate: '$88.83',
    subtotal: '$88.83',
    vehicle: demoVehicle('Ostra', 2018, 'white', 130),
    lines: [
      repair('FB-S', { part: 'seat_cushion', side: 'left', inches: '0.4', trim: 'stone' }),
      repair('FB-S', { part: 'seat_back', side: 'left', inches: '0.3', trim: 'stone' }),
    ],
  },
  {
    stock: 'PL-252',
    estimate: '$68.75',
    subtotal: '$68.75',
    vehicle: demoVehicle('Luma', 2017, 'blue', 131),
    lines: [repair('BN-S', { part: 'seat_cushion', side: 'right', inches: '0.4', trim: 'graphite' })],
  },
  {
    stock: 'PL-253',
    estimate: '$231.83',
    subtotal: '$231.83',
    vehicle: demoVehicle('Halden', 2020, 'black', 132),
    lines: [
      repair('LW-P', { part: 'seat_bolster', side: 'left', trim: 'saddle' }),
      repair('SW-S', { part: 'steering_wheel' }),
      repair('PL-S', { part: 'dash', inches: '2', trim: 'graphite' }),
    ],
  },
  {
    stock: 'PL-254',
    estimate: '$65.00',
    subtotal: '$65.00',
    vehicle: demoVehicle('Brisko', 2016, 'gray', 133),
    lines: [repair('CP-M', { part: 'carpet', inches: '1.5', trim: 'graphite' })],
  },
  {
    stock: 'PL-255',
    estimate: '$305.53',
    subtotal: '$79.75',
    vehicle: demoVehicle('Corvane', 2021, 'red', 134),
    lines: [
      repair('PU-L', { part: 'armrest', inches: '4.2', trim: 'sand' }),
      repair('SC-M', { part: 'front_door_panel', side: 'left', inches: '6', trim: 'sand' }),
    ],
  },
  {
    stock: 'PL-256',
    estimate: '$174.08',
    subtotal: '$174.08',
    vehicle: demoVehicle('Luma', 2019, 'green', 135),
    lines: [
      repair('VC-M', { part: 'front_door_panel', side: 'right', inches: '1.6' }),
      repair('PL-H', { part: 'console', trim: 'charcoal' }),
    ],
  },
  {
    stock: 'PL-257',
    estimate: '$65.00',
    subtotal: '$65.00',
    vehicle: demoVehicle('Ostra', 2015, 'gold', 136),
    lines: [repair('KF-1', { part: 'key_remote' })],
  },
];
