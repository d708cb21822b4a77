import type { NamedLine } from './line-words.ts';
import { type Method, methods as methodTraits } from './methods.ts';

export interface DoneLine extends Pick<NamedLine, 'family' | 'repairsDamage'> {
  /** As the line is named beside the others of its vehicle. */
  readonly name: string;
  readonly methods: readonly Method[];
}

/**
 * What was done to one part, as the vehicle's owner reads it: what was wrong and how it was repaired, or, where
 * nothing was damaged, what was done for the repair, the steps in the order of work. It promises nothing about how it looks.
 */
export function doneWords(line: DoneLine): string {
  const steps = inOrderOfWork(line.methods)
    .map((method) => methodTraits[method].label)
    .join(', ');
  const how = steps === '' ? '' : ` Steps: ${steps}.`;
  const repaired = line.repairsDamage || line.family === '' ? ': repaired' : '';
  return `${line.name}${repaired}.${how}`;
}

/** The list of methods stands in that order. */
function inOrderOfWork(done: readonly Method[]): readonly Method[] {
  const order = Object.keys(methodTraits);
  return done.toSorted((a, b) => order.indexOf(a) - order.indexOf(b));
}
