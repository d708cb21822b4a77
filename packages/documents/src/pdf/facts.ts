import type { DocumentFact } from './letterhead.ts';
import type { Element, Sheet } from './sheet.ts';
import { colors, styles, type TextStyle } from './styles.ts';
import { closeRow, drawTable, type Table } from './table.ts';
import { linesOf } from './text.ts';

const termWidth = 82;
const gap = 10;

interface FactsTable extends Omit<Table, 'columns' | 'rows' | 'header'> {
  /** Of what is known, not of what it is called. */
  readonly style?: TextStyle;
}

/** What is known of something, a fact a row; nothing where nothing is. */
export function drawFacts(
  sheet: Sheet,
  section: Element,
  facts: readonly DocumentFact[],
  { style = styles.body, ...table }: FactsTable,
): void {
  if (facts.length === 0) return;
  drawTable(sheet, section, {
    ...table,
    header: false,
    columns: [
      { header: '', width: termWidth, names: true },
      { header: '', width: 'rest' },
    ],
    rows: facts.map(({ term, value }) => [
      [{ text: term, style: { ...style, color: colors.quiet } }],
      [{ text: value, style }],
    ]),
  });
}

/** Of facts that are set close, so that something else can stay with them. */
export function factsHeight(
  sheet: Sheet,
  facts: readonly DocumentFact[],
  { width = sheet.width, style = styles.body }: Pick<FactsTable, 'width' | 'style'> = {},
): number {
  const lines = (text: string) => linesOf(sheet.pdf, text, style, width - termWidth - gap).length;
  return facts.reduce((sum, { value }) => sum + closeRow(lines(value) * style.leading), 0);
}
