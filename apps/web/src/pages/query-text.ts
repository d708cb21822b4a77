/** A text of a page's query; null where there is none, or it is empty or there twice. */
export function queryText(text: unknown): string | null {
  return typeof text === 'string' && text.trim() !== '' ? text : null;
}
