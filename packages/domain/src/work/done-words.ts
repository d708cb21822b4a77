import { type Damage, damageWords, partPositions, vehicleParts } from './damage.ts';
import { type Method, methods as methodTraits } from './methods.ts';

export interface DoneLine {
  readonly damage: Damage;
  /** The repair's family in the price book, e.g. “Trim off and on”. */
  readonly family: string;
  readonly repairsDamage: boolean;
  readonly methods: readonly Method[];
}

/**
 * What was done to one part, as the vehicle's owner reads it: what was wrong and how it was repaired, or, where
 * nothing was damaged, what was done for the repair. It promises nothing about how it looks.
 */
export function doneWords({ damage, family, repairsDamage, methods }: DoneLine): string {
  const steps = methods.map((method) => methodTraits[method].label).join(', ');
  const how = steps === '' ? '' : ` Steps: ${steps}.`;
  if (repairsDamage || family === '') return `${damageWords(damage)}: repaired.${how}`;
  const where = damage.part === 'other' ? [] : [vehicleParts[damage.part]];
  const side = damage.position === null ? [] : [partPositions[damage.position]];
  const sentence = [family, ...where, ...side].join(', ');
  return `${sentence}.${how}`;
}
