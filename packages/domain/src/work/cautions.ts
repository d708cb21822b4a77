import type { VehiclePart } from './damage.ts';
import type { Material } from './material.ts';
import type { Method } from './methods.ts';
import { methods as methodTraits } from './methods.ts';

/** Something the technician noticed that asks for a caution of its own. */
export type Circumstance = 'airbag_lamp_on' | 'high_voltage_cables' | 'used_vehicle' | 'hot_day';

/** When a caution is shown: before work starts, or when the vehicle is handed back. */
export type CautionMoment = 'start' | 'hand_over';

interface CautionRule {
  readonly moment: CautionMoment;
  /** One line; it defers to the vehicle maker, the safety data sheet (SDS) and local rules, and has no figures. */
  readonly sentence: string;
  readonly shows: (work: CautionedWork) => boolean;
}

export interface CautionedWork {
  readonly parts: readonly VehiclePart[];
  readonly materials: readonly Material[];
  readonly methods: readonly Method[];
  readonly circumstances: readonly Circumstance[];
}

export interface Caution {
  readonly code: CautionCode;
  readonly moment: CautionMoment;
  readonly sentence: string;
}

export type CautionCode = keyof typeof rules;

/**
 * The cautions to show for this work, each once, the gravest first. General wording from common practice:
 * it teaches no airbag work, and prints no temperature, because that figure is the vehicle maker's.
 */
export function cautionsFor(work: CautionedWork): readonly Caution[] {
  return codes
    .filter((code) => rules[code].shows(work))
    .map((code) => ({ code, moment: rules[code].moment, sentence: rules[code].sentence }));
}

/**
 * What to read before a part is warmed to test its material, the gravest first: in general while the part is not
 * known, and else what fits it. General wording from common practice, without a temperature.
 */
export function heatTestCautions(part: VehiclePart | null): readonly string[] {
  if (part === null) return [beforeAnyHeat];
  const airbag = airbagParts.includes(part) ? [rules.airbag_near.sentence] : [];
  return [...airbag, rules.heat.sentence];
}

const beforeAnyHeat =
  'Before you warm anything: an airbag or sensor may sit behind trim. Follow the vehicle maker’s instructions for that part, and keep heat away from solvent vapor.';

/**
 * True where the work re-sews a seam of a seat that may hold a side airbag: the line stays blocked until
 * the owner of the business releases it with a reason.
 */
export function seamIsBlocked(work: Pick<CautionedWork, 'parts' | 'methods'>): boolean {
  return work.methods.includes('re_sew') && anyOf(work.parts, ['seat_back', 'seat_bolster', 'seat_cushion']);
}

/** Common practice, without a published source; a part that has no name here is not known to be free of one. */
const airbagParts: readonly VehiclePart[] = [
  'steering_wheel',
  'dash',
  'knee_panel',
  'seat_bolster',
  'seat_back',
  'seat_cushion',
  'front_door_panel',
  'rear_door_panel',
  'quarter_trim',
  'pillar_trim',
  'headliner',
  'console',
  'armrest',
  'other',
];

const rules = {
  airbag_near: {
    moment: 'start',
    sentence:
      'An airbag or sensor may sit behind this trim: before any heat, cut, stitch, soak or removal follow the vehicle maker’s instructions, and refer work on a deployment seam or cover.',
    shows: ({ parts }) => anyOf(parts, airbagParts),
  },
  seat_seam: {
    moment: 'start',
    sentence:
      'A side airbag may open through this seam: do not re-sew it unless the vehicle maker’s instructions allow it and the owner of the business has released the line.',
    shows: seamIsBlocked,
  },
  airbag_lamp: {
    moment: 'start',
    sentence:
      'The airbag lamp is already on: photograph the instrument cluster now and again after the work, and leave the cause to a workshop the vehicle maker names.',
    shows: ({ circumstances }) => circumstances.includes('airbag_lamp_on'),
  },
  high_voltage: {
    moment: 'start',
    sentence:
      'Keep away from orange high-voltage cables and their covers; only the vehicle maker’s procedure says more.',
    shows: ({ circumstances }) => circumstances.includes('high_voltage_cables'),
  },
  trim_removal: {
    moment: 'start',
    sentence:
      'Before the trim comes off, see the vehicle maker’s procedure for battery and ignition, connectors and airbags.',
    shows: ({ methods }) => methods.includes('trim_off_and_on'),
  },
  heat: {
    moment: 'start',
    sentence:
      'Heat brings hot surfaces and fumes: keep the gun moving, shield glass, film, wiring and trim nearby, stay clear of solvent vapor, have an extinguisher at hand, and follow the SDS.',
    shows: ({ methods, materials }) =>
      methods.some((method) => methodTraits[method].hot) ||
      anyOf(materials, ['foam_backed_vinyl', 'tpu', 'urethane']),
  },
  solvent: {
    moment: 'start',
    sentence:
      'Solvent vapor burns: open the vehicle, keep every spark and heat source away, wear the gloves and eye protection of the SDS, and try it first where it can’t be seen.',
    shows: ({ methods, materials }) =>
      methods.some((method) => methodTraits[method].solvent) || anyOf(materials, ['urethane', 'molded_foam']),
  },
  isocyanates: {
    moment: 'start',
    sentence:
      'A two-part coating may contain isocyanates, which can sensitize for life: use it only with the breathing protection and controls that its SDS and local law ask for.',
    shows: ({ methods }) => methods.includes('two_part_coating'),
  },
  spraying: {
    moment: 'start',
    sentence:
      'Before spraying, mask what overspray can reach, ventilate, wear the respirator of the SDS, mind local air rules, and ask first on a customer’s premises.',
    shows: ({ methods }) => methods.some((method) => methodTraits[method].sprays),
  },
  dust: {
    moment: 'start',
    sentence:
      'Sanding dust from old coatings may be harmful: damp it or extract it, and wear the mask that the SDS and local rules ask for.',
    shows: ({ methods }) => methods.includes('sand'),
  },
  blades: {
    moment: 'start',
    sentence:
      'Cut away from yourself and never toward wiring; where it runs, the vehicle maker’s instructions show.',
    shows: ({ methods, materials }) => methods.includes('cut_out') || materials.includes('urethane'),
  },
  used_vehicle: {
    moment: 'start',
    sentence:
      'A used vehicle may hide needles, mold or body fluids: look before reaching in, wear gloves, follow local rules, and refuse what is not safe.',
    shows: ({ circumstances }) => circumstances.includes('used_vehicle'),
  },
  hot_day: {
    moment: 'start',
    sentence:
      'A closed vehicle in the sun gets hot fast: open it, drink, rest in the shade, and follow local heat rules.',
    shows: ({ circumstances }) => circumstances.includes('hot_day'),
  },
  cure_time: {
    moment: 'hand_over',
    sentence:
      'A fresh repair has to cure: until then keep it dry and don’t rub or load it. How long that takes, and how to care for it after, the product’s data sheet says.',
    shows: ({ methods }) =>
      methods.some((method) => methodTraits[method].sprays || methodTraits[method].fills),
  },
} as const satisfies Record<string, CautionRule>;

const codes: readonly CautionCode[] = Object.keys(rules).filter((code): code is CautionCode =>
  Object.hasOwn(rules, code),
);

function anyOf<T>(present: readonly T[], asked: readonly T[]): boolean {
  return present.some((one) => asked.includes(one));
}
