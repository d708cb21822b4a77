import { child, decorate, makeRoom, paragraph, type Sheet } from './sheet.ts';
import { colors, styles, type TextStyle } from './styles.ts';
import { drawTable } from './table.ts';
import { linesOf } from './text.ts';

export interface Sum {
  readonly term: string;
  readonly value: string;
  /** The one that counts. */
  readonly strong?: boolean;
}

/** Sums at the right, below a document’s lines; `hold` is the height of what must stay on their page. */
export function drawSums(sheet: Sheet, sums: readonly Sum[], hold: number): void {
  const width = 330;
  const styleOf = (sum: Sum) => (sum.strong === true ? styles.strong : styles.body);
  drawTable(sheet, child(sheet, sheet.root, 'Sect'), {
    header: false,
    whole: true,
    hold: hold + afterSums,
    x: sheet.left + sheet.width - width,
    width,
    columns: [
      { header: '', width: 'rest', names: true },
      { header: '', width: 90, figure: true },
    ],
    rows: sums.map((sum) => [
      [{ text: sum.term, style: styleOf(sum) }],
      [{ text: sum.value, style: styleOf(sum) }],
    ]),
  });
  sheet.y += afterSums;
}

const afterSums = 18;

/** The double stitch that ends a document, and the words that it ends with. */
export function drawClosing(sheet: Sheet, closing: Closing): void {
  const { words, under } = closing;
  makeRoom(sheet, closingHeight(sheet, closing));
  drawSeam(sheet);
  const section = child(sheet, sheet.root, 'Sect');
  paragraph(sheet, section, { text: words, style: styles.closing });
  for (const text of under) paragraph(sheet, section, { text, style: styles.body });
  sheet.y += 12;
}

export interface Closing {
  readonly words: string;
  /** Set small below them. */
  readonly under: readonly string[];
}

export function closingHeight(sheet: Sheet, { words, under }: Closing): number {
  const height = (texts: readonly string[], style: TextStyle) =>
    texts.flatMap((text) => linesOf(sheet.pdf, text, style, sheet.width)).length * style.leading;
  return seamHeight + height([words], styles.closing) + height(under, styles.body);
}

const seamHeight = 16;

/** What the business wants to say on its documents. */
export function drawNote(sheet: Sheet, note: string): void {
  if (note.trim() === '') return;
  paragraph(sheet, child(sheet, sheet.root, 'Sect'), { text: note.trim(), style: styles.body });
  sheet.y += 12;
}

function drawSeam(sheet: Sheet): void {
  const { pdf, left, width } = sheet;
  decorate(sheet, () => {
    pdf.save().lineWidth(1.5).lineCap('round').dash(9, { space: 6 }).strokeColor(colors.thread);
    for (const [start, y] of [
      [2, 2],
      [9, 6],
    ] as const)
      pdf
        .moveTo(left + start, sheet.y + y)
        .lineTo(left + width - 2, sheet.y + y)
        .stroke();
    pdf.restore();
  });
  sheet.y += seamHeight;
}
