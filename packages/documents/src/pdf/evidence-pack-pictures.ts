import type { EvidencePicture } from './evidence-pack-model.ts';
import { drawPicture } from './letterhead.ts';
import { child, decorate, type Element, makeRoom, paragraph, type Sheet, writeLine } from './sheet.ts';
import { colors, styles } from './styles.ts';
import { type Line, linesOf } from './text.ts';

const between = 9;

/** How many pictures stand beside each other: all of a document in boxes of one size. */
export type Across = 2 | 3 | 4;

export interface PictureRow {
  /** What they show. */
  readonly of: string;
  readonly pictures: readonly EvidencePicture[];
  /** How many more there are in the archive. */
  readonly further: number;
}

/** Pictures beside each other in boxes of one size, each with its caption. */
export function drawEvidencePictures(
  sheet: Sheet,
  section: Element,
  { of, pictures, further }: PictureRow,
  across: Across,
): void {
  for (let at = 0; at < pictures.length; at += across)
    drawRow(sheet, section, of, { pictures: pictures.slice(at, at + across), across });
  if (further > 0)
    paragraph(sheet, section, {
      text:
        further === 1 ? '1 more picture is in the archive.' : `${further} more pictures are in the archive.`,
      style: styles.small,
    });
}

interface Row {
  readonly pictures: readonly EvidencePicture[];
  readonly across: Across;
  /** How many boxes the row leaves free at its left; none unless said. */
  readonly free?: number;
}

/** How much room a number of boxes takes, with what is between them. */
export function boxesWidth(sheet: Sheet, across: Across, boxes: number): number {
  return boxes * (boxOf(sheet, across).width + between) - between;
}

/** Of one row; nothing where there are no pictures. */
export function rowHeight(sheet: Sheet, { pictures, across }: Row): number {
  if (pictures.length === 0) return 0;
  const box = boxOf(sheet, across);
  const captions = pictures.map((picture) => captionLines(sheet, picture, box.width).length);
  return box.height + 3 + Math.max(...captions) * styles.small.leading + 5;
}

function boxOf(sheet: Sheet, across: Across): { readonly width: number; readonly height: number } {
  const width = (sheet.width - (across - 1) * between) / across;
  return { width, height: width * 0.75 };
}

function captionLines(sheet: Sheet, picture: EvidencePicture, width: number): readonly Line[] {
  const { number, purpose, taken, notes } = picture;
  const words = [`${number}. ${purpose}, ${taken}`, ...notes];
  return words.flatMap((text) => linesOf(sheet.pdf, text, styles.small, width));
}

/** A row of at most as many as stand beside each other. */
export function drawRow(sheet: Sheet, section: Element, of: string, row: Row): void {
  const height = rowHeight(sheet, row);
  makeRoom(sheet, height);
  const { y } = sheet;
  const box = boxOf(sheet, row.across);
  for (const [index, picture] of row.pictures.entries()) {
    const x = sheet.left + ((row.free ?? 0) + index) * (box.width + between);
    decorate(sheet, () => sheet.pdf.rect(x, y, box.width, box.height).fill(colors.tint));
    const { bytes, number, purpose, taken } = picture;
    if (bytes !== null)
      drawPicture(sheet, section, {
        bytes,
        alt: `Picture ${number}, ${of}: ${purpose.toLowerCase()}, ${taken}`,
        x,
        y,
        ...box,
        align: 'center',
      });
    const caption = child(sheet, section, 'Caption');
    let next = y + box.height + 3;
    for (const line of captionLines(sheet, picture, box.width)) {
      writeLine(sheet, caption, line, { x, y: next, width: box.width });
      next += line.style.leading;
    }
  }
  sheet.y = y + height;
}
