import { printable } from './printable.ts';
import type { TextStyle } from './styles.ts';
import { textLines } from './text-lines.ts';
import { typeface } from './typefaces.ts';

/** A line of text as it was written and as it can be printed. */
export interface Line {
  readonly text: string;
  readonly printed: string;
  readonly style: TextStyle;
}

export function linesOf(
  pdf: PDFKit.PDFDocument,
  text: string,
  style: TextStyle,
  width: number,
): readonly Line[] {
  pdf.font(style.face).fontSize(style.size);
  const { covers } = typeface(style.face);
  const measure = (part: string) => pdf.widthOfString(printable(part, covers));
  return textLines(text, width, measure).map((line) => ({
    text: line,
    printed: printable(line, covers),
    style,
  }));
}

/** In points, of text that does not wrap. */
export function widthOf(pdf: PDFKit.PDFDocument, text: string, { face, size }: TextStyle): number {
  return pdf
    .font(face)
    .fontSize(size)
    .widthOfString(printable(text, typeface(face).covers));
}

/** Draws a line into a box whose top left corner is `x`, `y`. */
export function drawText(
  pdf: PDFKit.PDFDocument,
  { printed, style }: Line,
  { x, y, width, right = false }: { x: number; y: number; width: number; right?: boolean },
): void {
  if (printed === '') return;
  const { face, size, leading, color } = style;
  pdf.font(face).fontSize(size).fillColor(color);
  const indent = right ? width - pdf.widthOfString(printed) : 0;
  const baseline = y + (leading - size) / 2 + 0.8 * size;
  pdf.text(printed, x + indent, baseline, { lineBreak: false, baseline: 'alphabetic' });
}
