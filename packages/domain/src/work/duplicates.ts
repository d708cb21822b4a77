import type { PartPosition, VehiclePart } from './damage.ts';

/** A line as far as it says where on the vehicle it is. */
export interface PlacedLine {
  readonly part: VehiclePart;
  readonly side: PartPosition | null;
  /** False for taking trim off or mixing color: that is no damage written up twice. */
  readonly repairsDamage: boolean;
}

/**
 * Whether two lines are of the same part of a vehicle: the same name, and the same side unless one of them doesn’t say.
 * Common practice, no published source.
 */
export function isSamePart(a: PlacedLine, b: PlacedLine): boolean {
  if (!a.repairsDamage || !b.repairsDamage || a.part !== b.part) return false;
  return a.side === null || b.side === null || a.side === b.side;
}
