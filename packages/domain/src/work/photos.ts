import type { LineId } from '../ids.ts';
import type { DamageKind } from './damage.ts';
import type { Material } from './material.ts';
import type { Method } from './methods.ts';

/** What a photo is for, with its name on pages. */
export const photoPurposes = {
  walk_around: 'walk-around',
  before: 'before',
  after_heat: 'after heat',
  cut_out: 'cut out',
  progress: 'progress',
  ruler: 'ruler',
  stop_point: 'stop point',
  after: 'after',
} as const satisfies Record<string, string>;

export type PhotoPurpose = keyof typeof photoPurposes;

/** Which photos an account's kind requires before work is finished. */
export type PhotoRule = 'retail' | 'trade' | 'lot';

/** A line as far as its photos go. */
export interface PhotographedLine {
  /** As named on pages, e.g. “Cut or tear, tailgate lining”. */
  readonly label: string;
  /** False for taking trim off, mixing color, testing a key remote: nothing to show before and after. */
  readonly repairsDamage: boolean;
  /** The purposes for which this line has at least one photo. */
  readonly photos: readonly PhotoPurpose[];
}

/** A line with what decides which picture proves its damage. */
export interface ProvedLine extends PhotographedLine {
  readonly id: LineId;
  readonly damage: DamageKind;
  readonly material: Material | null;
  readonly methods: readonly Method[];
}

/** A picture that is still to be taken; any one of the purposes is enough, the likeliest first. */
export interface PhotoStillToTake {
  /** Null: of the vehicle as a whole. */
  readonly lineId: LineId | null;
  readonly label: string;
  readonly purposes: readonly PhotoPurpose[];
}

/** Any of these shows a payer who never sees the vehicle what the damage really was. */
const proofs: readonly PhotoPurpose[] = ['after_heat', 'cut_out', 'progress', 'ruler'];

/**
 * The photos still missing before the work is finished, each in words (“before picture of Burn, carpet”).
 * retail: walk-around, before, after. trade: before, a proof, after. lot: before, after.
 * Common practice, no published source.
 */
export function missingPhotos(
  rule: PhotoRule,
  workOrderPhotos: readonly PhotoPurpose[],
  lines: readonly PhotographedLine[],
): readonly string[] {
  return [
    ...missingBeforeStart(rule, workOrderPhotos),
    ...lines.flatMap((line) => missingOfLine(rule, line)),
  ];
}

/** The photos of the whole vehicle still missing before work on it starts, each in words. */
export function missingBeforeStart(
  rule: PhotoRule,
  workOrderPhotos: readonly PhotoPurpose[],
): readonly string[] {
  return rule === 'retail' && !workOrderPhotos.includes('walk_around') ? ['walk-around'] : [];
}

/** The before photos still missing when the work is sent for approval, each in words. */
export function missingBeforePhotos(lines: readonly PhotographedLine[]): readonly string[] {
  return lines
    .filter((line) => line.repairsDamage && !line.photos.includes('before'))
    .map((line) => wordsOf(['before'], line.label));
}

/** What a line still lacks by the rule: a list of purposes, of each of which any one is enough. */
export function neededPhotos(rule: PhotoRule, line: PhotographedLine): readonly (readonly PhotoPurpose[])[] {
  if (!line.repairsDamage) return [];
  const required: readonly (readonly PhotoPurpose[])[] =
    rule === 'trade' ? [['before'], proofs, ['after']] : [['before'], ['after']];
  return required.filter((purposes) => !purposes.some((purpose) => line.photos.includes(purpose)));
}

/**
 * What is still to be photographed, in the order in which it can be seen: the vehicle as it came, the damage, what proves
 * it on the way, and only then the repair. A line asks for its proof where the rule does, and where the end of work would
 * be doubted without one. Common practice, no published source.
 */
export function photosStillToTake(
  rule: PhotoRule,
  workOrderPhotos: readonly PhotoPurpose[],
  lines: readonly ProvedLine[],
): readonly PhotoStillToTake[] {
  const ofVehicle = missingBeforeStart(rule, workOrderPhotos).length > 0;
  const ofLines = lines.flatMap((line) =>
    wantedOf(rule, line).map((purposes) => ({ lineId: line.id, label: line.label, purposes })),
  );
  return [
    ...(ofVehicle ? [theVehicle] : []),
    ...ofLines.toSorted((one, other) => stageOf(one.purposes) - stageOf(other.purposes)),
  ];
}

const theVehicle: PhotoStillToTake = {
  lineId: null,
  label: 'The vehicle as it came',
  purposes: ['walk_around'],
};

function wantedOf(rule: PhotoRule, line: ProvedLine): readonly (readonly PhotoPurpose[])[] {
  const needed = neededPhotos(rule, line);
  const isOver = !needed.some((purposes) => purposes.includes('after'));
  const wantsHeat = heatShowsTheCut(line) && !line.photos.includes('after_heat') && !isOver;
  const others = needed.filter((purposes) => purposes !== proofs);
  if (wantsHeat) return [...others, ['after_heat']];
  return others.length === needed.length ? needed : [...others, likeliestFirst(line)];
}

/** Whether the payer sees only after heat that it was a cut and not a mark. */
export function heatShowsTheCut({
  damage,
  material,
  methods,
}: Pick<ProvedLine, 'damage' | 'material' | 'methods'>): boolean {
  if (damage !== 'cut_or_tear') return false;
  return material === 'foam_backed_vinyl' || material === 'tpu' || methods.includes('heat_flatten');
}

function likeliestFirst({ material, methods }: ProvedLine): readonly PhotoPurpose[] {
  const likeliest = material === 'urethane' || methods.includes('cut_out') ? 'cut_out' : 'progress';
  return [likeliest, ...proofs.filter((purpose) => purpose !== likeliest)];
}

function stageOf(purposes: readonly PhotoPurpose[]): number {
  if (purposes.includes('before')) return 0;
  return purposes.includes('after') ? 2 : 1;
}

function missingOfLine(rule: PhotoRule, line: PhotographedLine): readonly string[] {
  return neededPhotos(rule, line).map((purposes) => wordsOf(purposes, line.label));
}

/** E.g. “after picture of Burn, carpet”, or where any one of several is enough, “one proof picture of … (… or ruler)”. */
function wordsOf(purposes: readonly PhotoPurpose[], label: string): string {
  const words = purposes.map((purpose) => photoPurposes[purpose]);
  if (words.length === 1) return `${words.join()} picture of ${label}`;
  return `one proof picture of ${label} (${words.slice(0, -1).join(', ')} or ${words.at(-1)})`;
}
