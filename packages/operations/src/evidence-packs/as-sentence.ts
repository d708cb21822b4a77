import { sentence } from '../sentence.ts';

/** Words as a sentence of their own: with a capital and a full stop. */
export function asSentence(words: string): string {
  return sentence(`${words.charAt(0).toUpperCase()}${words.slice(1)}`);
}
