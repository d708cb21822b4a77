import { ok, type Result, refuse } from '@grainwright/domain';

/** Reads one of a closed list of words, as a form or the API sends it. `sentence` says what to choose. */
export function readChoice<Word extends string>(
  words: Readonly<Record<Word, unknown>>,
  text: string,
  field: string,
  sentence: string,
): Result<Word> {
  const isWord = (candidate: string): candidate is Word => Object.hasOwn(words, candidate);
  const word = text.trim();
  return isWord(word) ? ok(word) : refuse('invalid_input', sentence, field);
}

/** As `readChoice`, where nothing chosen is an answer too. */
export function readOptionalChoice<Word extends string>(
  words: Readonly<Record<Word, unknown>>,
  text: string,
  field: string,
  sentence: string,
): Result<Word | null> {
  return text.trim() === '' ? ok(null) : readChoice(words, text, field, sentence);
}
