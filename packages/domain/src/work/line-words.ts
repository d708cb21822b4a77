import { type Damage, damageWords, partPositions, vehicleParts } from './damage.ts';

export interface NamedLine {
  readonly damage: Damage;
  /** The repair's family in the price book, e.g. “Trim off and on”. */
  readonly family: string;
  readonly repairsDamage: boolean;
}

/** A line's name: the damage it repairs and where, or, for work that mends none, that work and where. */
export function lineWords({ damage, family, repairsDamage }: NamedLine): string {
  if (repairsDamage || family === '') return damageWords(damage);
  const where = damage.part === 'other' ? [] : [vehicleParts[damage.part]];
  const side = damage.position === null ? [] : [partPositions[damage.position]];
  return [family, ...where, ...side].join(', ');
}

/** Names in the order written, with the second of the same name told apart: “Cut or tear, tailgate lining (2)”. */
export function numberedNames(names: readonly string[]): readonly string[] {
  return names.map((name, index) => {
    const nth = names.slice(0, index).filter((earlier) => earlier === name).length + 1;
    return nth === 1 ? name : `${name} (${nth})`;
  });
}
