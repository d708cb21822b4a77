/** Words that somebody typed, as a sentence to put another one after. */
export function sentence(words: string): string {
  return /[.!?…]$/.test(words) ? words : `${words}.`;
}
