/** What a check is about, in the order in which a report tells it. */
export const checkSubjects = {
  manifest: 'The list of contents',
  files: 'The files',
  keys: 'The signing keys',
  seals: 'The seals',
  days: 'The sealed days',
  pictures: 'Pictures and recordings',
  printed: 'What you compared it with',
} as const satisfies Record<string, string>;

export type CheckSubject = keyof typeof checkSubjects;

/** One thing that was looked at. `note` neither holds nor fails: whoever checks should know it. */
export interface PackCheck {
  readonly about: CheckSubject;
  readonly result: 'holds' | 'fails' | 'note';
  readonly sentence: string;
}

export function fails(about: CheckSubject, sentence: string): PackCheck {
  return { about, result: 'fails', sentence };
}

export function note(about: CheckSubject, sentence: string): PackCheck {
  return { about, result: 'note', sentence };
}

/** The faults, or where there is none the sentence that says what holds. */
export function orHolds(
  about: CheckSubject,
  found: readonly PackCheck[],
  sentence: string,
): readonly PackCheck[] {
  return found.some(({ result }) => result === 'fails')
    ? found
    : [{ about, result: 'holds', sentence }, ...found];
}

/** A few names, and how many more there are. */
export function namesOf(names: readonly string[], most = 5): string {
  const shown = names.slice(0, most).join(', ');
  return names.length > most ? `${shown} and ${names.length - most} more` : shown;
}
