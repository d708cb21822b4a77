import { ok, type Result, refuse } from '../result.ts';
import type { VehiclePart } from './damage.ts';

export type KeyResult = 'pass' | 'fail' | 'not_fitted';

export const keyResults = {
  pass: 'pass',
  fail: 'fail',
  not_fitted: 'not fitted',
} as const satisfies Record<KeyResult, string>;

export type KeyStep = 'battery' | 'coating' | 'lock' | 'unlock' | 'trunk' | 'horn';

interface StepRule {
  readonly label: string;
  /** What is done, in one sentence. */
  readonly how: string;
  /** Whether a key may do without it. */
  readonly mayBeMissing: boolean;
  readonly pass: string;
  readonly fail: string;
}

const tap = (name: string): StepRule => ({
  label: `${name} contact`,
  how: `Close the ${name} contact by hand, at the vehicle.`,
  mayBeMissing: true,
  pass: 'The electronics answer.',
  fail: 'The electronics don’t answer: a new case won’t help. Sell no case; the key needs a locksmith or the dealer.',
});

/** The tests of a key remote in the order they are made. Common practice, no published source. */
export const keySteps: Readonly<Record<KeyStep, StepRule>> = {
  battery: {
    label: 'Battery',
    how: 'Measure the battery, or put in a fresh one.',
    mayBeMissing: false,
    pass: 'The battery holds.',
    fail: 'Put in a fresh battery and begin again: nothing that follows says anything with a weak one.',
  },
  coating: {
    label: 'Conductive coating under the buttons',
    how: 'Look at the black coating on the back of each button.',
    mayBeMissing: false,
    pass: 'The coating is whole.',
    fail: 'The coating is worn: the buttons can’t close their contacts. Put in a new pad and begin again.',
  },
  lock: tap('lock'),
  unlock: tap('unlock'),
  trunk: tap('trunk'),
  horn: tap('horn'),
};

const isStep = (key: string): key is KeyStep => Object.hasOwn(keySteps, key);
const stepOrder: readonly KeyStep[] = Object.keys(keySteps).filter(isStep);

/** Null: not tested. */
export type KeySheet = Readonly<Record<KeyStep, KeyResult | null>>;

/** Whether a line sells a key remote’s case, by its part or the kind of repair. */
export function isKeyRemote(line: { readonly part: VehiclePart; readonly family: string }): boolean {
  return line.part === 'key_remote' || /\bkey remote\b/i.test(line.family);
}

/**
 * A sheet keeps to the order: a step counts only once every step before it is tested, and what a key can’t do without
 * is not “not fitted”. Refuses with `invalid_input`.
 */
export function checkKeySheet(sheet: KeySheet): Result<KeySheet> {
  for (const [index, step] of stepOrder.entries()) {
    const result = sheet[step];
    if (result === 'not_fitted' && !keySteps[step].mayBeMissing)
      return refuse('invalid_input', `${keySteps[step].label}: every key has it. Choose pass or fail.`, step);
    const skipped = stepOrder.slice(0, index).find((earlier) => sheet[earlier] === null);
    if (result !== null && skipped !== undefined)
      return refuse(
        'invalid_input',
        `Test in order: first ${keySteps[skipped].label.toLowerCase()}, then ${keySteps[step].label.toLowerCase()}.`,
        skipped,
      );
  }
  if (sheet.battery === null) return refuse('invalid_input', 'Begin with the battery.', 'battery');
  return ok(sheet);
}

export type KeyVerdict = 'passed' | 'failed' | 'unfinished';

/** All pass: only the case and pad are replaced. A key that none of the four functions was tried on has not passed. */
export function keyVerdict(sheet: KeySheet): KeyVerdict {
  const results = stepOrder.map((step) => sheet[step]);
  if (results.includes('fail')) return 'failed';
  const tried = (['lock', 'unlock', 'trunk', 'horn'] as const).some((step) => sheet[step] === 'pass');
  return results.includes(null) || !tried ? 'unfinished' : 'passed';
}

/** What a result means, in a sentence; null while it is not tested or not there. */
export function keyMeaning(step: KeyStep, result: KeyResult | null): string | null {
  return result === 'pass' || result === 'fail' ? keySteps[step][result] : null;
}
