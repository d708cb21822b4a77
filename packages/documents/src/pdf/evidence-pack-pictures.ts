import type { EvidencePicture } from './evidence-pack-model.ts';
import { drawPicture } from './letterhead.ts';
import { child, decorate, type Element, makeRoom, paragraph, type Sheet, writeLine } from './sheet.ts';
import { colors, styles } from './styles.ts';
import { type Line, linesOf } from './text.ts';

const acrossMost = 3;
const between = 9;

export interface PictureRow {
  /** What they show. */
  readonly of: string;
  readonly pictures: readonly EvidencePicture[];
  /** How many more there are in the archive. */
  readonly further: number;
}

/** Pictures beside each other in boxes of one size, three to a row, each with its caption. */
export function drawEvidencePictures(sheet: Sheet, section: Element, row: PictureRow): void {
  const { of, pictures, further } = row;
  for (let at = 0; at < pictures.length; at += acrossMost)
    drawRow(sheet, section, of, pictures.slice(at, at + acrossMost));
  if (further > 0)
    paragraph(sheet, section, {
      text:
        further === 1 ? '1 more picture is in the archive.' : `${further} more pictures are in the archive.`,
      style: styles.small,
    });
}

/** Of one row; nothing where there are no pictures. */
export function picturesHeight(sheet: Sheet, pictures: readonly EvidencePicture[]): number {
  if (pictures.length === 0) return 0;
  const captions = pictures.map((picture) => captionLines(sheet, picture).length);
  return boxOf(sheet).height + 3 + Math.max(...captions) * styles.small.leading + 6;
}

function boxOf(sheet: Sheet): { readonly width: number; readonly height: number } {
  const width = (sheet.width - (acrossMost - 1) * between) / acrossMost;
  return { width, height: width * 0.75 };
}

function captionLines(sheet: Sheet, picture: EvidencePicture): readonly Line[] {
  const { number, purpose, taken, notes } = picture;
  const words = [`${number}. ${purpose}, ${taken}`, ...notes];
  return words.flatMap((text) => linesOf(sheet.pdf, text, styles.small, boxOf(sheet).width));
}

function drawRow(sheet: Sheet, section: Element, of: string, pictures: readonly EvidencePicture[]): void {
  const height = picturesHeight(sheet, pictures);
  makeRoom(sheet, height);
  const { y } = sheet;
  const box = boxOf(sheet);
  for (const [index, picture] of pictures.entries()) {
    const x = sheet.left + index * (box.width + between);
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
    for (const line of captionLines(sheet, picture)) {
      writeLine(sheet, caption, line, { x, y: next, width: box.width });
      next += line.style.leading;
    }
  }
  sheet.y = y + height;
}
