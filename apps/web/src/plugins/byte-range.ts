/** Which bytes a request asks for; `unsatisfiable` where the file has none of them. */
export type AskedRange = { readonly first: number; readonly last: number } | 'whole' | 'unsatisfiable';

/**
 * Reads a Range header (RFC 9110 §14.1.2 and §14.2) for a file of that many bytes. One range is answered; several, another
 * unit or what makes no sense are answered with the whole file, as a server may.
 */
export function readRange(header: string | undefined, bytes: number): AskedRange {
  const asked = /^bytes=\s*(\d{0,15})-(\d{0,15})\s*$/i.exec(header ?? '');
  if (asked === null) return 'whole';
  const [, from = '', to = ''] = asked;
  if (from === '' && to === '') return 'whole';
  if (from === '') {
    const length = Math.min(Number(to), bytes);
    return length === 0 ? 'unsatisfiable' : { first: bytes - length, last: bytes - 1 };
  }
  const first = Number(from);
  if (to !== '' && Number(to) < first) return 'whole';
  if (first >= bytes) return 'unsatisfiable';
  return { first, last: to === '' ? bytes - 1 : Math.min(Number(to), bytes - 1) };
}
