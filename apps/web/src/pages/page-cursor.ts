/** Where a paged list goes on, from the address; anything but a whole number is the first page. */
export function pageCursor(text: unknown): bigint | undefined {
  return typeof text === 'string' && /^\d{1,15}$/.test(text) ? BigInt(text) : undefined;
}
