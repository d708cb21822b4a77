import type { Instant } from '../dates.ts';
import type { SignerRole } from '../evidence/acceptance.ts';
import type { LineId } from '../ids.ts';
import { compareDecimals, type Decimal, formatDecimal } from '../money/decimal.ts';
import { ok, type Result, refuse } from '../result.ts';
import type { DamageKind } from './damage.ts';
import type { KeyVerdict } from './key-remote.ts';
import type { Material } from './material.ts';
import { type Method, methods as methodTraits } from './methods.ts';
import { heatShowsTheCut, type PhotoPurpose } from './photos.ts';

export type ContradictionCode =
  | 'heat_on_burnt'
  | 'heat_on_unbacked_vinyl'
  | 'heat_grain_on_urethane'
  | 'urethane_not_cut_out'
  | 'heat_without_blend'
  | 'filler_in_molded_foam'
  | 'cut_without_photo_after_heat'
  | 'spray_without_masking'
  | 'no_layers'
  | 'unusual_layers'
  | 'size_not_in_band'
  | 'key_not_tested'
  | 'key_test_failed'
  | 'airbag_lamp_came_on'
  | 'signature_older_than_photo'
  | 'owner_signature_by_payer';

/**
 * What is done about a contradiction. `mend`: nothing else helps. `reason`: mended, or overridden with a reason.
 * `ask`: somebody is asked whether it is right, and no more.
 */
export type ContradictionWeight = 'mend' | 'reason' | 'ask';

/** Two things on record that don't fit each other. */
export interface Contradiction {
  readonly code: ContradictionCode;
  readonly weight: ContradictionWeight;
  /** Null where it concerns the work order as a whole. */
  readonly lineId: LineId | null;
  readonly sentence: string;
}

export interface WorkedLine {
  readonly lineId: LineId;
  /** As named on pages, e.g. “Cut or tear, tailgate lining”. */
  readonly label: string;
  readonly damage: DamageKind;
  /** False for taking trim off, mixing color, testing a key remote: nothing there was cut, filled or measured. */
  readonly repairsDamage: boolean;
  /** What the work goes by: inferred or overruled; null while not known. */
  readonly material: Material | null;
  /** The damage was the test: it was heated once, and is not heated again. */
  readonly alreadyBurnt: boolean;
  readonly methods: readonly Method[];
  readonly photos: readonly PhotoPurpose[];
  /** Layers put on; null while not written down. */
  readonly layers: number | null;
  readonly measuredInches: Decimal | null;
  /** The billed band: over `overInches`, up to and including `toInches`; null where nothing is measured. */
  readonly billedBand: { readonly overInches: Decimal; readonly toInches: Decimal } | null;
  /** How a key remote did in its tests; null where the line sells no case of one. */
  readonly keyTest: KeyVerdict | null;
}

/**
 * The contradictions on one finished line. A missing after-picture is not among them, because it can't be
 * overridden: readyToFinish refuses it. Common practice, no published source.
 */
export function lineContradictions(line: WorkedLine): readonly Contradiction[] {
  return checks
    .filter((check) => (line.repairsDamage || !ofDamage.includes(check.code)) && check.found(line))
    .map((check) => ({
      code: check.code,
      weight: weightOf(check.code),
      lineId: line.lineId,
      sentence: `${line.label}: ${check.sentence(line)}`,
    }));
}

/**
 * A size is measured, not chosen; a key that does not work gets no new case; and what was signed before a picture was
 * taken can’t have covered it: these are mended. How many layers it took is asked, not refused.
 */
function weightOf(code: ContradictionCode): ContradictionWeight {
  if (toMend.includes(code)) return 'mend';
  return code === 'unusual_layers' ? 'ask' : 'reason';
}

const toMend: readonly ContradictionCode[] = [
  'key_not_tested',
  'key_test_failed',
  'signature_older_than_photo',
  'size_not_in_band',
];

/** These are about how damage was repaired, so they say nothing about work that repairs none. */
const ofDamage: readonly ContradictionCode[] = [
  'urethane_not_cut_out',
  'heat_without_blend',
  'filler_in_molded_foam',
  'cut_without_photo_after_heat',
  'no_layers',
  'unusual_layers',
  'size_not_in_band',
];

interface Check {
  readonly code: ContradictionCode;
  readonly found: (line: WorkedLine) => boolean;
  readonly sentence: (line: WorkedLine) => string;
}

const heated = (line: WorkedLine) => line.methods.some((method) => methodTraits[method].heatsMaterial);
const filled = (line: WorkedLine) => line.methods.some((method) => methodTraits[method].fills);

const checks: readonly Check[] = [
  {
    code: 'heat_on_burnt',
    found: (line) => line.alreadyBurnt && heated(line),
    sentence: () => 'it was burnt already and is not heated again, but heating the material is written down.',
  },
  {
    code: 'heat_on_unbacked_vinyl',
    found: (line) =>
      line.material === 'unbacked_vinyl' && line.methods.some((method) => methodTraits[method].hot),
    sentence: () => 'unbacked vinyl shrinks under heat, but a heat method is written down.',
  },
  {
    code: 'heat_grain_on_urethane',
    found: (line) => line.material === 'urethane' && heated(line),
    sentence: () => 'urethane takes no shape from heat, but heating the material is written down.',
  },
  {
    code: 'urethane_not_cut_out',
    found: (line) => line.material === 'urethane' && !line.methods.includes('cut_out'),
    sentence: () => 'loose urethane has to be cut away first, but no cutting out is written down.',
  },
  {
    code: 'heat_without_blend',
    found: (line) => heated(line) && !line.methods.some((method) => methodTraits[method].blends),
    sentence: () =>
      'heat softens the grain around a repair, but no cold graining or sprayed texture follows.',
  },
  {
    code: 'filler_in_molded_foam',
    found: (line) => line.material === 'molded_foam' && filled(line),
    sentence: () => 'molded foam is worn back evenly and takes no filler, but a filler is written down.',
  },
  {
    code: 'cut_without_photo_after_heat',
    found: (line) => heatShowsTheCut(line) && !line.photos.includes('after_heat'),
    sentence: () =>
      'without a picture taken after heat, the payer can’t see that it was a cut and not a mark.',
  },
  {
    code: 'spray_without_masking',
    found: (line) =>
      line.methods.some((method) => methodTraits[method].sprays) && !line.methods.includes('mask'),
    sentence: () => 'spraying is written down, masking is not.',
  },
  {
    code: 'no_layers',
    found: (line) => filled(line) && (line.layers === null || line.layers === 0),
    sentence: () => 'it was filled, but no layers are written down.',
  },
  {
    code: 'unusual_layers',
    found: (line) =>
      filled(line) && line.layers !== null && line.layers !== 0 && (line.layers < 3 || line.layers > 4),
    sentence: (line) => `three to four layers are usual; ${line.layers} written down. Is that right?`,
  },
  {
    code: 'size_not_in_band',
    found: (line) => !sizeFits(line),
    sentence: sizeSentence,
  },
  {
    code: 'key_not_tested',
    found: ({ keyTest }) => keyTest === 'unfinished',
    sentence: () => 'the key was not tested through. Test it in order; only then is its case sold.',
  },
  {
    code: 'key_test_failed',
    found: ({ keyTest }) => keyTest === 'failed',
    sentence: () =>
      'a test of the key failed, so no case is sold. Mend what failed and test again, or take the line off.',
  },
];

/** A size on the boundary belongs to the lower band. */
function sizeFits({ measuredInches, billedBand }: WorkedLine): boolean {
  if (measuredInches === null || billedBand === null) return true;
  return (
    compareDecimals(measuredInches, billedBand.overInches) > 0 &&
    compareDecimals(measuredInches, billedBand.toInches) <= 0
  );
}

function sizeSentence({ measuredInches, billedBand }: WorkedLine): string {
  const measured = measuredInches === null ? '' : formatDecimal(measuredInches);
  const band =
    billedBand === null
      ? ''
      : `over ${formatDecimal(billedBand.overInches)} to ${formatDecimal(billedBand.toInches)}`;
  return `measured ${measured} in, but billed as ${band} in.`;
}

export interface SignedWork {
  readonly signedAt: Instant;
  readonly signerRole: SignerRole;
  readonly signerName: string;
  /** Names of the paying account's own people. */
  readonly payerNames: readonly string[];
  /** True where the payer is the vehicle's owner, as with retail: then nothing is wrong. */
  readonly payerOwnsVehicle: boolean;
  readonly lastAfterPhotoAt: Instant | null;
}

/** The contradictions between a signature and the rest of the record. */
export function signatureContradictions(signed: SignedWork): readonly Contradiction[] {
  const found: Contradiction[] = [];
  if (signed.lastAfterPhotoAt !== null && Date.parse(signed.signedAt) < Date.parse(signed.lastAfterPhotoAt))
    found.push({
      code: 'signature_older_than_photo',
      weight: weightOf('signature_older_than_photo'),
      lineId: null,
      sentence: 'The signature is older than the last after picture, so it can’t have covered it.',
    });
  if (
    signed.signerRole === 'vehicle_owner' &&
    !signed.payerOwnsVehicle &&
    isOneOf(signed.payerNames, signed.signerName)
  )
    found.push({
      code: 'owner_signature_by_payer',
      weight: weightOf('owner_signature_by_payer'),
      lineId: null,
      sentence: `${signed.signerName} signed as the vehicle’s owner, but belongs to the account that pays.`,
    });
  return found;
}

function isOneOf(names: readonly string[], name: string): boolean {
  const plain = (text: string) => text.trim().replace(/\s+/g, ' ').toLowerCase();
  return names.some((other) => plain(other) === plain(name));
}

/** Somebody's reason to leave a contradiction as it is. */
export interface ContradictionOverride {
  readonly code: ContradictionCode;
  readonly lineId: LineId | null;
  readonly reason: string;
}

/** Refuses an override without a reason, and of what can only be mended. */
export function overrideContradiction(
  { code, lineId, weight, sentence }: Contradiction,
  reason: string,
): Result<ContradictionOverride> {
  const text = reason.trim();
  if (weight === 'mend') return refuse('contradiction', `No reason helps here: ${sentence}`, 'reason');
  if (text === '') return refuse('invalid_input', 'Say why it is right as it is.', 'reason');
  return ok({ code, lineId, reason: text });
}

/** What is left to mend or override; what is only asked stops nothing. */
export function openContradictions(
  found: readonly Contradiction[],
  overrides: readonly ContradictionOverride[],
): readonly Contradiction[] {
  return found.filter(
    ({ code, lineId, weight }) =>
      weight !== 'ask' && !overrides.some((override) => override.code === code && override.lineId === lineId),
  );
}
