import type { Choice } from '../../look/forms.ts';

/** A closed list of words as the choices of a field, each with a capital. */
export function choicesOf(
  words: Readonly<Record<string, string>>,
): readonly Pick<Choice, 'value' | 'label'>[] {
  return Object.entries(words).map(([value, label]) => ({
    value,
    label: `${label.charAt(0).toUpperCase()}${label.slice(1)}`,
  }));
}
