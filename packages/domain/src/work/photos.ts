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

function missingOfLine(rule: PhotoRule, line: PhotographedLine): readonly string[] {
  return neededPhotos(rule, line).map((purposes) => wordsOf(purposes, line.label));
}

/** E.g. “after picture of Burn, carpet”, or where any one of several is enough, “one proof picture of … (… or ruler)”. */
function wordsOf(purposes: readonly PhotoPurpose[], label: string): string {
  const words = purposes.map((purpose) => photoPurposes[purpose]);
  if (words.length === 1) return `${words.join()} picture of ${label}`;
  return `one proof picture of ${label} (${words.slice(0, -1).join(', ')} or ${words.at(-1)})`;
}
