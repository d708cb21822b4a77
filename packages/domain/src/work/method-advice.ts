import type { VehiclePart } from './damage.ts';
import {
  type Material,
  type MaterialByEye,
  type MaterialFinding,
  materials,
  settledMaterial,
} from './material.ts';
import { type Method, methods } from './methods.ts';

/**
 * Why a method that `adviseMethods` lists as failing fails, in a few words. Common practice, no published source.
 */
export function whyItFails(finding: MaterialFinding, method: Method): string {
  const { heatsMaterial, hot, fills } = methods[method];
  if (finding.observed.kind === 'already_burnt' && heatsMaterial)
    return 'it is burnt already: more heat makes it worse';
  switch (settledMaterial(finding)) {
    case 'unbacked_vinyl':
      return hot && fills
        ? 'the heat that cures it shrinks the vinyl; clear flexible filler needs none'
        : 'it shrinks, and the hole grows';
    case 'urethane':
      return 'it takes no shape from heat; only its filler is cured with it';
    case 'molded_foam':
      return 'foam holds no filler: its contour is worn back instead';
    case 'foam_backed_vinyl':
    case 'tpu':
      return 'its grain is another one, and stays in sight';
    case 'leather':
    case 'fabric':
    case 'hard_plastic':
    case 'headliner':
    case 'carpet':
    case null:
      return 'it is known to fail here';
  }
}

/** What has to be minded when working on it, in sentences. Common practice, no published source. */
export function howToWork(finding: MaterialFinding): readonly string[] {
  const material = settledMaterial(finding);
  return material === null ? [] : (minded[material] ?? []);
}

const minded: Partial<Readonly<Record<Material, readonly string[]>>> = {
  foam_backed_vinyl: [
    'Heat softens the grain around the repair as well: a cold graining or a sprayed texture has to follow, or a halo stays.',
  ],
  tpu: [
    `As vinyl, gently; ${materials.tpu} is not urethane.`,
    'After heat a cold graining or a sprayed texture has to follow.',
  ],
  unbacked_vinyl: ['Mask generously. Level the base texture with 400 grit before texture is sprayed.'],
  urethane: [
    'Cut all loose material away and degrease first. The filler is cured with heat; the material is not heated.',
    'Build texture from wide to fine, and sand the tops with 400 grit.',
  ],
  molded_foam: ['Wear the contour back evenly with solvent and pad, then texture it.'],
};

/** What a part is made of by its name alone, told by eye; null where it may be of several materials. */
export function materialOfPart(part: VehiclePart): MaterialByEye | null {
  return part === 'carpet' || part === 'headliner' ? part : null;
}
