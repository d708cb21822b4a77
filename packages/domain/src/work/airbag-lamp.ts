import { ok, type Result, refuse } from '../result.ts';
import type { Contradiction } from './contradictions.ts';

/** Whether the airbag lamp was lit, with its words on pages. */
export const lampStates = { off: 'off', on: 'on' } as const satisfies Record<string, string>;

export type LampState = keyof typeof lampStates;

/** Reads what was seen of the lamp; null where nobody looked. Refuses with `invalid_input`. */
export function readLamp(text: string, field: string): Result<LampState | null> {
  const word = text.trim();
  if (word === '') return ok(null);
  if (word === 'on' || word === 'off') return ok(word);
  return refuse('invalid_input', 'Say whether the airbag lamp is on or off.', field);
}

/** A lamp that came on while the vehicle was worked on. Common practice, no published source. */
export function lampContradictions(
  before: LampState | null,
  after: LampState | null,
): readonly Contradiction[] {
  if (before !== 'off' || after !== 'on') return [];
  return [
    {
      code: 'airbag_lamp_came_on',
      weight: 'reason',
      lineId: null,
      sentence:
        'The airbag lamp was off before the work and is on now. Photograph the instrument cluster, tell the owner, and leave the cause to a workshop that the vehicle maker names.',
    },
  ];
}
