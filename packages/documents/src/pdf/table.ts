import {
  child,
  decorate,
  type Element,
  makeRoom,
  nextPage,
  paragraph,
  rule,
  type Sheet,
  writeLine,
} from './sheet.ts';
import { colors, styles, type TextStyle } from './styles.ts';
import { drawText, type Line, linesOf, widthOf } from './text.ts';

export interface Column {
  readonly header: string;
  /** Points; one column may take the rest. A column of figures widens to its widest: figures don’t wrap. */
  readonly width: number | 'rest';
  /** Set to the right, as figures are. */
  readonly figure?: boolean;
  /** Its cells name their rows. */
  readonly names?: boolean;
}

export interface CellPart {
  readonly text: string;
  readonly style: TextStyle;
}

/** Plain words, or several parts below each other. */
export type Cell = string | readonly CellPart[];

export interface Table {
  /** Stands above the table and never without it. */
  readonly heading?: { readonly words: string; readonly role: 'H2' | 'H3'; readonly under?: string };
  readonly columns: readonly Column[];
  readonly rows: readonly (readonly Cell[])[];
  /** Set strong below the rows; never on a page without the last of them. */
  readonly totals?: readonly (readonly Cell[])[];
  /** False for a table whose rows are named, but not its columns. */
  readonly header?: boolean;
  /** Set close, without rules: for facts and for what is only looked up. */
  readonly dense?: boolean;
  /** Keeps a small table on one page. */
  readonly whole?: boolean;
  /** Points that what comes next needs on the same page as the table’s end. */
  readonly hold?: number;
  readonly x?: number;
  readonly width?: number;
  /** Draws beside a body row; decoration only. */
  readonly beside?: (row: number, box: { readonly y: number; readonly height: number }) => void;
}

interface PlacedColumn extends Column {
  readonly x: number;
  readonly textWidth: number;
}

interface PlacedRow {
  readonly cells: readonly (readonly Line[])[];
  readonly height: number;
}

interface Placed {
  readonly sheet: Sheet;
  readonly table: Table;
  readonly element: Element;
  readonly columns: readonly PlacedColumn[];
  readonly header: PlacedRow | null;
  readonly padding: Padding;
  readonly x: number;
  readonly width: number;
}

/** Around the words of a row, in points. */
interface Padding {
  readonly above: number;
  readonly below: number;
  /** Of a row without words; null: a line of its style. */
  readonly least: number | null;
}

const gap = 10;
const roomy: Padding = { above: 2, below: 3, least: null };
const close: Padding = { above: 1, below: 0, least: styles.digest.leading };
/** The height of a row of a dense table. */
export function closeRow(words: number): number {
  return close.above + words + close.below;
}

/** A row that is split begins with this much at least. */
const splitLeast = 5 * styles.body.leading;
const headingUnderStyle = styles.small;

/**
 * Draws and tags a table. The header row is drawn again on every page (as decoration there: it is one table); the
 * first two rows stay together with it, and so do the last two with the totals. A row higher than a page goes on
 * over the next ones.
 */
export function drawTable(sheet: Sheet, parent: Element, table: Table): void {
  const { x = sheet.left, width = sheet.width } = table;
  const columns = placedColumns(widened(sheet, table), x, width);
  const padding = table.dense === true ? close : roomy;
  const placing = { sheet, columns, padding };
  const header = table.header === false ? null : headerRow(placing);
  const rows = table.rows.map((cells) => placedRow(placing, cells, styles.body));
  const totals = (table.totals ?? []).map((cells) => placedRow(placing, cells, styles.strong));
  makeRoomForHead(sheet, table, header, rows, totals);
  if (table.heading !== undefined) drawHeading(sheet, parent, table.heading);
  const element = child(sheet, parent, 'Table');
  const placed: Placed = { sheet, table, columns, header, padding, x, width, element };
  if (header !== null) drawHeader(placed, header);
  for (const [index, row] of rows.entries()) {
    const held = heldHeight(rows, totals, index, false);
    if (mustMoveOn(placed, row, held)) continueOnNextPage(placed);
    drawRow(placed, row, index);
  }
  for (const row of totals) {
    if (sheet.y + row.height > sheet.bottom) continueOnNextPage(placed);
    drawRow(placed, row, null);
  }
}

/** The head never stands alone: with what it holds, else with its first row, else with the first lines of that. */
function makeRoomForHead(
  sheet: Sheet,
  table: Table,
  header: PlacedRow | null,
  rows: readonly PlacedRow[],
  totals: readonly PlacedRow[],
): void {
  const head = headHeight(sheet, table, header);
  const firstHeight = rows[0]?.height ?? 0;
  const held = heldHeight(rows, totals, 0, table.whole === true) + (table.hold ?? 0);
  const page = sheet.bottom - sheet.top - head;
  const needed = [held, firstHeight].find((height) => height <= page) ?? splitLeast;
  makeRoom(sheet, head + needed);
}

function headHeight(sheet: Sheet, { heading }: Table, header: PlacedRow | null): number {
  const words = heading === undefined ? [] : linesOf(sheet.pdf, heading.words, styles.heading, sheet.width);
  const under = linesOf(sheet.pdf, heading?.under ?? '', headingUnderStyle, sheet.width);
  const headingHeight = words.length * styles.heading.leading + under.length * headingUnderStyle.leading;
  return headingHeight + (header?.height ?? 0);
}

/** How much must fit for this row to be drawn here: with the second one the first, with the totals the last. */
function heldHeight(
  rows: readonly PlacedRow[],
  totals: readonly PlacedRow[],
  index: number,
  whole: boolean,
): number {
  const last = rows.length - 1;
  const until = whole || index >= last - 1 ? last : index === 0 ? 1 : index;
  const heights = rows.slice(index, until + 1).map((row) => row.height);
  const totalHeights = until === last ? totals.map((row) => row.height) : [];
  return [...heights, ...totalHeights].reduce((sum, height) => sum + height, 0);
}

function mustMoveOn({ sheet, header }: Placed, row: PlacedRow, held: number): boolean {
  const left = sheet.bottom - sheet.y;
  if (held <= left) return false;
  const page = sheet.bottom - sheet.top - (header?.height ?? 0);
  if (left >= page) return false;
  if (held <= page) return true;
  if (row.height <= left) return false;
  return row.height <= page || left < splitLeast;
}

function drawHeading(sheet: Sheet, parent: Element, heading: NonNullable<Table['heading']>): void {
  const style = heading.role === 'H2' ? styles.heading : styles.minor;
  paragraph(sheet, parent, { text: heading.words, style, role: heading.role });
  if (heading.under !== undefined && heading.under !== '')
    paragraph(sheet, parent, { text: heading.under, style: headingUnderStyle });
}

function widened(sheet: Sheet, { columns, rows, totals = [] }: Table): readonly Column[] {
  const widest = (index: number, from: Table['rows'], style: TextStyle) =>
    from
      .flatMap((cells) => partsOf(cells[index] ?? '', style))
      .reduce((most, part) => Math.max(most, widthOf(sheet.pdf, part.text, part.style)), 0);
  return columns.map((column, index) => {
    if (column.figure !== true || column.width === 'rest') return column;
    const body = widest(index, rows, styles.body);
    return { ...column, width: Math.max(column.width, body, widest(index, totals, styles.strong)) };
  });
}

function partsOf(cell: Cell, style: TextStyle): readonly CellPart[] {
  return typeof cell === 'string' ? [{ text: cell, style }] : cell;
}

function placedColumns(columns: readonly Column[], x: number, width: number): readonly PlacedColumn[] {
  const gaps = gap * (columns.length - 1);
  const fixed = columns.reduce((sum, column) => sum + (column.width === 'rest' ? 0 : column.width), 0);
  let next = x;
  return columns.map((column) => {
    const textWidth = column.width === 'rest' ? width - fixed - gaps : column.width;
    const placed = { ...column, x: next, textWidth };
    next += textWidth + gap;
    return placed;
  });
}

type Placing = Pick<Placed, 'sheet' | 'columns' | 'padding'>;

function headerRow(placing: Placing): PlacedRow {
  const words = placing.columns.map((column) => column.header);
  return placedRow(placing, words, styles.columnHeader);
}

function placedRow(
  { sheet, columns, padding }: Placing,
  cells: readonly Cell[],
  style: TextStyle,
): PlacedRow {
  if (cells.length !== columns.length)
    throw new Error(`a row of ${cells.length} cells in a table of ${columns.length} columns`);
  const lines = columns.map((column, index) => {
    return partsOf(cells[index] ?? '', style)
      .filter((part) => part.text !== '')
      .flatMap((part) => linesOf(sheet.pdf, part.text, part.style, column.textWidth));
  });
  const least = padding.least ?? style.leading;
  const height = Math.max(...lines.map(heightOf), least) + padding.above + padding.below;
  return { cells: lines, height };
}

function heightOf(lines: readonly Line[]): number {
  return lines.reduce((sum, line) => sum + line.style.leading, 0);
}

function drawHeader({ sheet, element, columns, padding, x, width }: Placed, header: PlacedRow): void {
  const tableRow = child(sheet, element, 'TR');
  for (const [index, column] of columns.entries()) {
    const cell = cellElement(sheet, tableRow, column.header === '' ? null : 'Column');
    writeCell(sheet, cell, header.cells[index] ?? [], column, sheet.y + padding.above);
  }
  sheet.y += header.height;
  rule(sheet, sheet.y, { x, width, color: colors.ink });
}

function continueOnNextPage({ sheet, columns, header, padding, x, width }: Placed): void {
  nextPage(sheet);
  if (header === null) return;
  decorate(
    sheet,
    () => {
      for (const [index, column] of columns.entries())
        placeLines(header.cells[index] ?? [], column, sheet.y + padding.above, (line, place) =>
          drawText(sheet.pdf, line, place),
        );
    },
    'Pagination',
  );
  sheet.y += header.height;
  rule(sheet, sheet.y, { x, width, color: colors.ink });
}

/** A row, in as many slices as it needs pages. `index` is null for totals. */
function drawRow(placed: Placed, row: PlacedRow, index: number | null): void {
  const { sheet, columns, element, table, padding, x, width } = placed;
  const tableRow = child(sheet, element, 'TR');
  const elements = columns.map((column) =>
    cellElement(sheet, tableRow, column.names === true ? 'Row' : null),
  );
  if (index !== null) table.beside?.(index, { y: sheet.y, height: row.height });
  let waiting = row.cells;
  for (;;) {
    const room = sheet.bottom - sheet.y - padding.above - padding.below;
    const slices = waiting.map((lines) => linesWithin(lines, room));
    for (const [at, column] of columns.entries()) {
      const cell = elements[at];
      if (cell !== undefined) writeCell(sheet, cell, slices[at] ?? [], column, sheet.y + padding.above);
    }
    const least = padding.least ?? styles.small.leading;
    sheet.y += Math.max(least, ...slices.map(heightOf)) + padding.above + padding.below;
    waiting = waiting.map((lines, at) => lines.slice(slices[at]?.length ?? 0));
    if (waiting.every((lines) => lines.length === 0)) break;
    continueOnNextPage(placed);
  }
  if (table.dense !== true) rule(sheet, sheet.y, { x, width });
}

/** The lines that fit; one at least, so that every page takes something. */
function linesWithin(lines: readonly Line[], room: number): readonly Line[] {
  let used = 0;
  const fitting = lines.findIndex((line) => {
    used += line.style.leading;
    return used > room;
  });
  return fitting === -1 ? lines : lines.slice(0, Math.max(1, fitting));
}

function cellElement(sheet: Sheet, row: Element, scope: 'Column' | 'Row' | null): Element {
  // The types of pdfkit leave out what its structure elements take for tables.
  const options: PDFKit.Mixins.StructureElementOptions & { scope?: string } = scope === null ? {} : { scope };
  const cell = sheet.pdf.struct(scope === null ? 'TD' : 'TH', options);
  row.add(cell);
  return cell;
}

interface Place {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly right: boolean;
}

function writeCell(
  sheet: Sheet,
  cell: Element,
  lines: readonly Line[],
  column: PlacedColumn,
  y: number,
): void {
  placeLines(lines, column, y, (line, place) => writeLine(sheet, cell, line, place));
}

function placeLines(
  lines: readonly Line[],
  column: PlacedColumn,
  y: number,
  write: (line: Line, place: Place) => void,
): void {
  let next = y;
  for (const line of lines) {
    write(line, { x: column.x, y: next, width: column.textWidth, right: column.figure === true });
    next += line.style.leading;
  }
}
