import { lineWords, type NamedLine } from './line-words.ts';
import { type Method, methods as methodTraits } from './methods.ts';

export interface DoneLine extends NamedLine {
  readonly methods: readonly Method[];
}

/**
 * What was done to one part, as the vehicle's owner reads it: what was wrong and how it was repaired, or, where
 * nothing was damaged, what was done for the repair. It promises nothing about how it looks.
 */
export function doneWords(line: DoneLine): string {
  const steps = line.methods.map((method) => methodTraits[method].label).join(', ');
  const how = steps === '' ? '' : ` Steps: ${steps}.`;
  const repaired = line.repairsDamage || line.family === '' ? ': repaired' : '';
  return `${lineWords(line)}${repaired}.${how}`;
}
