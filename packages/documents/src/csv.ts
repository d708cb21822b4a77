/** A cell of a table: text as people wrote it, or a figure in plain notation such as `-63.75`. */
export type CsvCell = string | { readonly figure: string };

/**
 * A table as CSV (RFC 4180): lines end in CRLF, cells with a comma, quote or line break are quoted, quotes doubled.
 * A text that a spreadsheet would run as a formula (it begins with = + - @, a tab or a carriage return) gets an
 * apostrophe before it; figures never do, so they stay numbers. Throws on a figure that is none, and on rows of
 * different length.
 */
export function csv(header: readonly string[], rows: readonly (readonly CsvCell[])[]): string {
  for (const row of rows)
    if (row.length !== header.length)
      throw new Error(`a row of ${row.length} cells under a header of ${header.length}`);
  return [header, ...rows].map((row) => `${row.map(written).join(',')}\r\n`).join('');
}

function written(cell: CsvCell): string {
  return typeof cell === 'string' ? quoted(harmless(cell)) : figure(cell.figure);
}

function harmless(text: string): string {
  return /^[=+\-@\t\r]/.test(text) ? `'${text}` : text;
}

function quoted(text: string): string {
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}

function figure(text: string): string {
  if (!/^-?\d+(\.\d+)?$/.test(text)) throw new Error(`not a figure: ${text.slice(0, 40)}`);
  return text;
}
