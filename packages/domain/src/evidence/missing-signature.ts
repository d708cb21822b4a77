import { ok, type Result, refuse } from '../result.ts';

/** Why nobody signed, with its name on pages. */
export const missingSignatureReasons = {
  refused: 'refused to sign',
  absent: 'nobody there to sign',
} as const satisfies Record<string, string>;

export type MissingSignatureReason = keyof typeof missingSignatureReasons;

/**
 * The person who saw somebody refuse has to be a second one: whoever writes it down can’t witness for themselves. Where
 * nobody was there, there may be nobody to name: then it may be empty. Refuses with `invalid_input`. Common practice, no
 * published source.
 */
export function checkWitness(
  witness: string,
  { why, recordedBy }: { readonly why: MissingSignatureReason; readonly recordedBy: string },
): Result<string> {
  const name = witness.trim().replace(/\s+/g, ' ');
  if (name === '' && why === 'absent') return ok(name);
  if (name === '' || name.length > 200)
    return refuse('invalid_input', 'Write the full name of the person who saw it.', 'witness');
  if (name.toLowerCase() === recordedBy.trim().replace(/\s+/g, ' ').toLowerCase())
    return refuse(
      'invalid_input',
      'You write it down yourself, so somebody else has to have seen it. Write that person’s name.',
      'witness',
    );
  return ok(name);
}

/** “Seen by Rosalind Amberley”, or that nobody else was there. */
export function witnessWords(witness: string): string {
  return witness === '' ? 'Nobody else was there' : `Seen by ${witness}`;
}
