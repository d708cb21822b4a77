import { ok, type Result, refuse } from '@grainwright/domain';
import { CsvError, parse } from 'csv-parse/sync';

/** A row below the header. `number` counts as a spreadsheet does: the header is row 1. */
export interface CsvRow {
  readonly number: number;
  readonly cells: readonly string[];
}

export interface CsvTable {
  readonly header: readonly string[];
  readonly rows: readonly CsvRow[];
}

/**
 * Reads a table as `csv` writes it and as spreadsheets save it: RFC 4180, lines ending in CRLF or LF, a byte order mark
 * or none. Rows without anything in them are passed over. The apostrophe that keeps a spreadsheet from running a text
 * is taken off again; what looks like a formula is text here and stays it. Refuses with `invalid_input` what has no
 * header, separates by semicolons or tabs, or has a quote out of place.
 */
export function readCsv(text: string): Result<CsvTable> {
  const first = text.replace(/^\uFEFF/, '').split(/\r\n|\r|\n/, 1)[0] ?? '';
  if (first.trim() === '')
    return refuse('invalid_input', 'The first line is empty. It holds the names of the columns.', 'csv');
  const other = [';', '\t'].find((sign) => !first.includes(',') && first.includes(sign));
  if (other !== undefined)
    return refuse(
      'invalid_input',
      `The columns are separated by ${other === ';' ? 'semicolons' : 'tabs'}. Separate them by commas: save the table as “CSV (comma separated)”.`,
      'csv',
    );
  const read = readRecords(text);
  if (!read.ok) return read;
  const [header = [], ...rows] = read.value;
  return ok({
    header: header.map((name) => name.trim()),
    rows: rows
      .map((cells, index) => ({ number: index + 2, cells: cells.map(withoutApostrophe) }))
      .filter(({ cells }) => cells.some((cell) => cell.trim() !== '')),
  });
}

function readRecords(text: string): Result<readonly (readonly string[])[]> {
  try {
    const records: string[][] = parse(text, {
      bom: true,
      record_delimiter: ['\r\n', '\n', '\r'],
      relax_column_count: true,
      skip_empty_lines: false,
    });
    return ok(records);
  } catch (error) {
    if (!(error instanceof CsvError)) throw error;
    return refuse('invalid_input', quoteWords(error), 'csv');
  }
}

/** What stops the reader is a quote, so nothing after it can be told apart. */
function quoteWords(error: CsvError): string {
  const line = 'lines' in error && typeof error.lines === 'number' ? `Line ${error.lines}` : 'A line';
  return `${line} has a quotation mark out of place. A cell with a comma, a quotation mark or a line break stands in quotation marks, and one inside it is written twice: "2"" cut".`;
}

function withoutApostrophe(cell: string): string {
  return /^'[=+\-@\t\r]/.test(cell) ? cell.slice(1) : cell;
}
