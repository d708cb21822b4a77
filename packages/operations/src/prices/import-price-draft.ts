import { type CsvTable, priceListColumns, readCsv } from '@grainwright/documents';
import { ok, type PriceDraftId, type Result, refuse } from '@grainwright/domain';
import { type Actor, performAsStaff } from '../perform.ts';
import type { Services } from '../services.ts';
import { listRowsMax, type PlacedRow, type RowProblem, readListRows, rowsProblem } from './list-rows.ts';
import { replaceDraft } from './save-price-draft.ts';

export interface ImportPriceDraftInput {
  readonly draftId: PriceDraftId;
  readonly revision: number;
  /** The text of the file, with a header row. */
  readonly csv: string;
}

/** A file of a list has at most so many bytes. */
export const listBytesMax = 1_000_000;

type Column = (typeof priceListColumns)[number];

/**
 * Puts the rows of a CSV file in the place of the draft's. Nothing is taken while anything is wrong with any row; all of
 * it is said at once, in `errors` by `rows.<row>.<column>`, rows counted as a spreadsheet does. Else as `savePriceDraft`.
 */
export function importPriceDraft(
  services: Services,
  actor: Actor,
  input: ImportPriceDraftInput,
): Promise<Result<{ revision: number; rates: number }>> {
  return performAsStaff(services, actor, 'change_price_book', async (scope) => {
    const table = readTable(input.csv);
    if (!table.ok) return table;
    const { placed, problems: unread } = placeRows(table.value);
    const { rows, problems } = readListRows(placed, scope.business.currency);
    const all = [...unread, ...problems].toSorted((a, b) => rowOf(a) - rowOf(b));
    if (all.length > 0) return { ok: false, problem: rowsProblem(all) };
    const saved = await replaceDraft(scope, input, { rates: rows });
    return saved.ok ? ok({ ...saved.value, rates: rows.length }) : saved;
  });
}

function readTable(csv: string): Result<CsvTable> {
  const bytes = Buffer.byteLength(csv, 'utf8');
  if (csv.trim() === '')
    return refuse('invalid_input', 'There is no text. Choose a file, or paste the table.', 'csv');
  if (bytes > listBytesMax)
    return refuse('invalid_input', 'The text is larger than 1 MB. A price list is far smaller.', 'csv');
  const table = readCsv(csv);
  if (!table.ok) return table;
  const { header, rows } = table.value;
  const wrong = headerProblem(header);
  if (wrong !== null) return refuse('invalid_input', wrong, 'csv');
  if (rows.length === 0) return refuse('invalid_input', 'There is no row below the header.', 'csv');
  if (rows.length > listRowsMax)
    return refuse('invalid_input', `A list has at most ${listRowsMax} rows; this has ${rows.length}.`, 'csv');
  return table;
}

function headerProblem(header: readonly string[]): string | null {
  const columns: readonly string[] = priceListColumns;
  const quoted = (names: readonly string[]) => names.map((name) => `“${name.slice(0, 40)}”`).join(', ');
  const unknown = header.filter((name) => !columns.includes(name));
  const missing = priceListColumns.filter((name) => !header.includes(name));
  const twice = header.filter((name, index) => header.indexOf(name) !== index);
  const parts = [
    missing.length > 0 && `The first row lacks ${quoted(missing)}.`,
    unknown.length > 0 &&
      `${quoted(unknown)} ${unknown.length === 1 ? 'is no column' : 'are no columns'} of a price list.`,
    twice.length > 0 && `${quoted(twice)} stands twice.`,
  ].filter((part) => part !== false);
  return parts.length === 0 ? null : `${parts.join(' ')} The columns are ${priceListColumns.join(', ')}.`;
}

function placeRows({ header, rows }: CsvTable): {
  placed: readonly PlacedRow[];
  problems: readonly RowProblem[];
} {
  const placed: PlacedRow[] = [];
  const problems: RowProblem[] = [];
  for (const { number, cells } of rows) {
    const words = `Row ${number}`;
    const place = `rows.${number}`;
    if (cells.length !== header.length) {
      const detail = `${words}: it has ${cells.length} cells, and the header has ${header.length}. A cell with a comma in it stands in quotation marks.`;
      problems.push({ field: `${place}.code`, detail });
      continue;
    }
    const cell = (column: Column) => cells[header.indexOf(column)]?.trim() ?? '';
    const [further, damage] = (['takes_further_repair', 'repairs_damage'] as const).map((column) => {
      const read = yesOrNo(cell(column));
      if (read === null) {
        const detail = `${words}, ${column.replaceAll('_', ' ')}: Write yes or no.`;
        problems.push({ field: `${place}.${column}`, detail });
      }
      return read ?? false;
    });
    const optional = (column: Column) => (cell(column) === '' ? null : cell(column));
    const row = {
      code: cell('code'),
      repair: cell('repair'),
      family: cell('family'),
      overInches: optional('over_inches'),
      toInches: optional('to_inches'),
      part: optional('part'),
      material: optional('material'),
      list: cell('list'),
      materialsPercent: cell('materials_percent'),
      takesFurtherRepair: further ?? false,
      repairsDamage: damage ?? false,
    };
    placed.push({ place, words, row });
  }
  return { placed, problems };
}

/** Spreadsheets make TRUE and FALSE of what they take for an answer. */
function yesOrNo(text: string): boolean | null {
  const word = text.toLowerCase();
  if (word === 'yes' || word === 'true') return true;
  return word === 'no' || word === 'false' ? false : null;
}

function rowOf({ field }: RowProblem): number {
  return Number(field.split('.')[1]);
}
