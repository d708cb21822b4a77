import { ok, type Result, refuse } from '../result.ts';
import type { Method } from './methods.ts';

/** What a part may be made of, with its name on pages. Polyurethane includes bonded leather; TPU stays apart. */
export const materials = {
  foam_backed_vinyl: 'foam-backed vinyl',
  unbacked_vinyl: 'unbacked vinyl',
  urethane: 'urethane (PU) or bonded leather',
  tpu: 'thermoplastic polyurethane (TPU)',
  molded_foam: 'molded foam',
  leather: 'leather',
  fabric: 'fabric',
  hard_plastic: 'hard plastic',
  headliner: 'headliner',
  carpet: 'carpet',
} as const satisfies Record<string, string>;

export type Material = keyof typeof materials;
export type MaterialByEye = 'leather' | 'fabric' | 'hard_plastic' | 'headliner' | 'carpet';

/** What the technician saw when the damage was warmed briefly, or saw without warming it. */
export type Observation =
  | { readonly kind: 'relaxes_and_lies_down' }
  | { readonly kind: 'shrinks_hole_grows' }
  | { readonly kind: 'nothing_crumbles_or_flakes' }
  | { readonly kind: 'softens_cleanly' }
  /** The damage was the test. What it left behind may point to a material; null where it does not. */
  | { readonly kind: 'already_burnt'; readonly looksLike: Material | null }
  | { readonly kind: 'foam_wheel_missing_material' }
  | { readonly kind: 'by_eye'; readonly looksLike: MaterialByEye };

export type ObservationKind = Observation['kind'];

export const observationLabels: Readonly<Record<ObservationKind, string>> = {
  relaxes_and_lies_down: 'Marks relax and lie down; cuts stay open',
  shrinks_hole_grows: 'It shrinks, and the hole grows',
  nothing_crumbles_or_flakes: 'Nothing happens; it crumbles or peels in flakes',
  softens_cleanly: 'It softens cleanly',
  already_burnt: 'Already burnt: not heated again',
  foam_wheel_missing_material: 'Foam steering wheel with material missing',
  by_eye: 'Told by eye',
};

/** What only heating shows. It is seen on the one damage that was warmed, and on no other. */
export const heatTests = [
  'relaxes_and_lies_down',
  'shrinks_hole_grows',
  'nothing_crumbles_or_flakes',
  'softens_cleanly',
] as const satisfies readonly ObservationKind[];

/** How far an inference may be believed. None of these words means certain. */
export type Certainty = 'likely' | 'possibly' | 'inferred from damage' | 'by eye';

/** What is concluded from an observation; always kept beside it, never instead of it. */
export interface Inference {
  readonly material: Material | null;
  readonly certainty: Certainty;
  /** For pages and documents, e.g. “likely foam-backed vinyl”. */
  readonly words: string;
}

/** Common practice in the trade, no published source. */
export function inferMaterial(observed: Observation): Inference {
  switch (observed.kind) {
    case 'relaxes_and_lies_down':
      return inference('foam_backed_vinyl', 'likely');
    case 'shrinks_hole_grows':
      return inference('unbacked_vinyl', 'likely');
    case 'nothing_crumbles_or_flakes':
      return inference('urethane', 'likely');
    case 'softens_cleanly':
      return inference('tpu', 'possibly');
    case 'already_burnt':
      return inference(observed.looksLike, 'inferred from damage');
    case 'foam_wheel_missing_material':
      return inference('molded_foam', 'likely');
    case 'by_eye':
      return inference(observed.looksLike, 'by eye');
  }
}

function inference(material: Material | null, certainty: Certainty): Inference {
  const name = material === null ? 'material not known' : materials[material];
  const words =
    certainty === 'likely' || certainty === 'possibly' ? `${certainty} ${name}` : `${name}, ${certainty}`;
  return { material, certainty, words };
}

/** A technician's better knowledge, with the reason. */
export interface Overrule {
  readonly material: Material;
  readonly reason: string;
}

/** The whole finding: seen, concluded, and overruled or not. */
export interface MaterialFinding {
  readonly observed: Observation;
  readonly inferred: Inference;
  readonly overruled: Overrule | null;
}

export function findMaterial(observed: Observation): MaterialFinding {
  return { observed, inferred: inferMaterial(observed), overruled: null };
}

/** Sets the technician's word over the inference, which stays on record. Refuses without a reason. */
export function overruleMaterial(finding: MaterialFinding, overrule: Overrule): Result<MaterialFinding> {
  const reason = overrule.reason.trim();
  if (reason === '')
    return refuse('invalid_input', 'Say why it is another material than the test suggests.', 'reason');
  return ok({ ...finding, overruled: { material: overrule.material, reason } });
}

/** What the work goes by: the technician's word where there is one, else the inference. */
export function settledMaterial(finding: MaterialFinding): Material | null {
  return finding.overruled?.material ?? finding.inferred.material;
}

/** The finding in words, with the overrule and its reason when there is one. */
export function materialWords(finding: MaterialFinding): string {
  if (finding.overruled === null) return finding.inferred.words;
  const { material, reason } = finding.overruled;
  return `${materials[material]}, in the technician’s judgment (${reason}); the test suggested ${finding.inferred.words}`;
}

/** Methods by what is known to work and to fail. A method in neither list is the technician's own choice. */
export interface MethodAdvice {
  readonly works: readonly Method[];
  readonly fails: readonly Method[];
}

/**
 * The methods for a finding. Damage that was its own test is not heated again, whatever it is made of; and
 * urethane is not heated, but its filler is cured with heat. Common practice, no published source.
 */
export function adviseMethods(finding: MaterialFinding): MethodAdvice {
  const material = settledMaterial(finding);
  const advice = material === null ? { works: [], fails: [] } : adviceByMaterial[material];
  if (finding.observed.kind !== 'already_burnt') return advice;
  return {
    works: advice.works.filter((method) => !heatingTheMaterial.includes(method)),
    fails: [...new Set([...advice.fails, ...heatingTheMaterial])],
  };
}

const heatingTheMaterial: readonly Method[] = ['heat_flatten', 'heat_grain'];
const fillers: readonly Method[] = ['fill_cut', 'clear_flexible_filler', 'heat_cured_filler'];
const thermoplastic: MethodAdvice = {
  works: ['heat_flatten', 'fill_cut', 'cold_grain', 'spray_texture'],
  fails: ['can_texture'],
};
const ownMethods: MethodAdvice = { works: [], fails: [] };

const adviceByMaterial: Readonly<Record<Material, MethodAdvice>> = {
  foam_backed_vinyl: thermoplastic,
  unbacked_vinyl: {
    works: ['clear_flexible_filler', 'base_texture', 'sand', 'mask', 'spray_texture'],
    fails: [...heatingTheMaterial, 'heat_cured_filler'],
  },
  urethane: {
    works: ['cut_out', 'degrease', 'heat_cured_filler', 'base_texture', 'spray_texture', 'sand'],
    fails: heatingTheMaterial,
  },
  tpu: thermoplastic,
  molded_foam: { works: ['wear_back', 'spray_texture'], fails: fillers },
  leather: ownMethods,
  fabric: ownMethods,
  hard_plastic: ownMethods,
  headliner: ownMethods,
  carpet: ownMethods,
};
