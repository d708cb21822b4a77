import {
  type Caution,
  type CautionCode,
  type Circumstance,
  cautionsFor,
  ok,
  type Result,
  refuse,
} from '@grainwright/domain';
import type { WorkLine } from './work-lines.ts';

/** As much of a work order as decides which cautions are shown. */
export interface CautionedWork {
  readonly account: { readonly kind: string };
  readonly lines: readonly Pick<WorkLine, 'part' | 'material' | 'methods' | 'answer'>[];
}

/** The cautions to read before the approved lines are started, the gravest first. */
export function cautionsToShow(work: CautionedWork, noticed: readonly Circumstance[]): readonly Caution[] {
  return cautionsOf(work, noticed).filter((caution) => caution.moment === 'start');
}

/** What the technician tells whoever takes the vehicle back. */
export function cautionsAtHandOver(work: CautionedWork): readonly Caution[] {
  return cautionsOf(work, []).filter((caution) => caution.moment === 'hand_over');
}

/** The same as those people read it, who have the technician to ask. */
export function toldAtHandOver(work: CautionedWork): readonly string[] {
  const sentences = cautionsAtHandOver(work).map(({ sentence }) => sentence);
  return sentences.length === 0 ? [] : [...sentences, 'Ask the technician what the data sheet says.'];
}

function cautionsOf(work: CautionedWork, noticed: readonly Circumstance[]): readonly Caution[] {
  const lines = work.lines.filter((line) => line.answer === 'approved');
  const used: readonly Circumstance[] = usedVehicleKinds.includes(work.account.kind) ? ['used_vehicle'] : [];
  return cautionsFor({
    parts: lines.map((line) => line.part),
    materials: lines.flatMap((line) => line.material ?? []),
    methods: lines.flatMap((line) => line.methods),
    circumstances: [...used, ...noticed],
  });
}

/** Accounts whose vehicles had other people in them before. */
const usedVehicleKinds: readonly string[] = ['used_car_lot', 'fleet', 'rental', 'wholesaler'];

/** What a technician may have noticed at the vehicle, with its words on pages. */
export const noticeable = {
  airbag_lamp_on: 'the airbag lamp is on',
  high_voltage_cables: 'orange high-voltage cables near the work',
  hot_day: 'a hot day, the vehicle in the sun',
} as const satisfies Partial<Record<Circumstance, string>>;

export function readCircumstances(codes: readonly string[]): Result<readonly Circumstance[]> {
  const unknown = codes.find((code) => !Object.hasOwn(noticeable, code));
  if (unknown !== undefined)
    return refuse('invalid_input', `Choose from: ${Object.keys(noticeable).join(', ')}.`, 'circumstances');
  return ok(codes.filter(isNoticeable));
}

function isNoticeable(code: string): code is keyof typeof noticeable {
  return Object.hasOwn(noticeable, code);
}

/** The acknowledged ones of the cautions shown; whatever else was sent names no caution of this work. */
export function acknowledgedOf(shown: readonly Caution[], codes: readonly string[]): readonly CautionCode[] {
  return shown.map((caution) => caution.code).filter((code) => codes.includes(code));
}
