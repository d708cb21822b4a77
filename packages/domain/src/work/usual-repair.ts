import type { DamageKind } from './damage.ts';
import type { Material } from './material.ts';
import { type Method, methods } from './methods.ts';

/** A line written before, as far as it tells how such a damage is repaired here. */
export interface RepairBefore {
  readonly part: string;
  readonly material: string;
  readonly family: string;
  readonly methods: readonly string[];
}

export interface UsualRepair {
  readonly family: string;
  readonly methods: readonly string[];
}

/**
 * What to propose for a damage: as it was repaired last on the same part of the same material, else on another part of
 * that material. Where the business never did it, no family, and the methods that are known to work on the material,
 * as far as this damage wants them. `before` are lines of the same kind of damage, the newest first. A proposal to
 * change, never a finding.
 */
export function usualRepair(
  before: readonly RepairBefore[],
  damage: {
    readonly kind: DamageKind;
    readonly part: string;
    readonly material: Material | null;
    readonly works: readonly Method[];
  },
): UsualRepair {
  const ofMaterial = before.filter(({ material }) => material === (damage.material ?? ''));
  const last = ofMaterial.find(({ part }) => part === damage.part) ?? ofMaterial[0];
  return last === undefined
    ? { family: '', methods: wanted(damage.works, damage.kind) }
    : { family: last.family, methods: last.methods };
}

/** Damage that leaves nothing open to be filled. */
const nothingOpen: readonly DamageKind[] = [
  'wrinkle',
  'scuff',
  'wear',
  'stain',
  'open_seam',
  'worn_out_buttons',
];

/** Nothing is filled that is not open, and nothing is sprayed without masking. Common practice, no published source. */
function wanted(works: readonly Method[], kind: DamageKind): readonly Method[] {
  const fitting = nothingOpen.includes(kind) ? works.filter((method) => !methods[method].fills) : works;
  const isMasked = fitting.includes('mask') || !fitting.some((method) => methods[method].sprays);
  return isMasked ? fitting : [...fitting, 'mask'];
}
