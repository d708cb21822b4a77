import { dayWords } from './figures.ts';
import type { DocumentPicture, InvoiceVehicle, PicturePair } from './invoice-model.ts';
import { drawPicture } from './letterhead.ts';
import { child, decorate, type Element, makeRoom, paragraph, type Sheet, writeLine } from './sheet.ts';
import { colors, styles } from './styles.ts';
import { linesOf } from './text.ts';

const between = 12;

/** A vehicle’s pictures, before and after side by side in boxes of one size. Nothing where there are none. */
export function drawPictures(
  sheet: Sheet,
  vehicle: string,
  { pictures, pictureNotes = [] }: Pick<InvoiceVehicle, 'pictures' | 'pictureNotes'>,
): void {
  const pairs = pictures.filter((pair) => pair.before !== null || pair.after !== null);
  if (pairs.length + pictureNotes.length === 0) return;
  const section = child(sheet, sheet.root, 'Sect');
  sheet.y += 8;
  for (const [index, pair] of pairs.entries()) {
    const heading = index === 0 ? `Before and after: ${vehicle}` : '';
    makeRoom(sheet, pairHeight(sheet, pair, heading));
    if (heading !== '') paragraph(sheet, section, { text: heading, style: styles.heading, role: 'H2' });
    drawPair(sheet, section, pair);
  }
  for (const text of pictureNotes) paragraph(sheet, section, { text, style: styles.small, role: 'P' });
}

function boxOf(sheet: Sheet): { readonly width: number; readonly height: number } {
  const width = (sheet.width - between) / 2;
  return { width, height: width * 0.75 };
}

function pairHeight(sheet: Sheet, pair: PicturePair, heading: string): number {
  const headings = heading === '' ? [] : linesOf(sheet.pdf, heading, styles.heading, sheet.width);
  const words = linesOf(sheet.pdf, pair.words, styles.minor, sheet.width);
  const wordsHeight = headings.length * styles.heading.leading + words.length * styles.minor.leading;
  return wordsHeight + boxOf(sheet).height + styles.small.leading + 8;
}

function drawPair(sheet: Sheet, section: Element, pair: PicturePair): void {
  paragraph(sheet, section, { text: pair.words, style: styles.minor, role: 'H3' });
  sheet.y += 3;
  const box = boxOf(sheet);
  drawSide(sheet, section, { picture: pair.before, purpose: 'Before', words: pair.words, x: sheet.left });
  drawSide(sheet, section, {
    picture: pair.after,
    purpose: 'After',
    words: pair.words,
    x: sheet.left + box.width + between,
  });
  sheet.y += box.height + styles.small.leading + 14;
}

function drawSide(
  sheet: Sheet,
  section: Element,
  side: {
    readonly picture: DocumentPicture | null;
    readonly purpose: 'Before' | 'After';
    readonly words: string;
    readonly x: number;
  },
): void {
  const { picture, purpose, words, x } = side;
  const { width, height } = boxOf(sheet);
  const { y } = sheet;
  decorate(sheet, () => sheet.pdf.rect(x, y, width, height).fill(colors.tint));
  const caption = picture === null ? `${purpose}: no picture` : `${purpose}, ${dayWords(picture.takenOn)}`;
  if (picture !== null)
    drawPicture(sheet, section, {
      bytes: picture.bytes,
      alt: `${words}: ${purpose.toLowerCase()}, ${dayWords(picture.takenOn)}`,
      x,
      y,
      width,
      height,
      align: 'center',
    });
  const [line] = linesOf(sheet.pdf, caption, styles.small, width);
  if (line !== undefined)
    writeLine(sheet, child(sheet, section, 'Caption'), line, { x, y: y + height + 3, width });
}
