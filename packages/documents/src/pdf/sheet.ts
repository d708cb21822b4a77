import type { Day } from '@grainwright/domain';
import PDFDocument from 'pdfkit';
import { colors, styles, type TextStyle } from './styles.ts';
import { drawText, type Line, linesOf } from './text.ts';
import { typeface } from './typefaces.ts';

/** US Letter, or A4 of ISO 216. */
export type PageSize = 'letter' | 'a4';

/** An element of the PDF’s structure tree. */
export type Element = PDFKit.PDFStructureElement;

/** A document being set. Points from the page’s top left corner; `y` is where the next thing goes. */
export interface Sheet {
  readonly pdf: PDFKit.PDFDocument;
  readonly root: Element;
  readonly left: number;
  readonly width: number;
  readonly top: number;
  /** Where text ends and the foot of the page begins. */
  readonly bottom: number;
  y: number;
}

export interface SheetFacts {
  readonly size: PageSize;
  readonly title: string;
  readonly author: string;
  /** The document’s own day: the file says that it was made then, so that the same document is the same bytes. */
  readonly on: Day;
  /** What the foot of every page says, besides the page’s number. */
  readonly foot: string;
  /** What the foot of the last page says above that; empty for nothing. */
  readonly lastFoot: string;
}

const margin = 48;
const footHeight = 34;

/** Opens a tagged document, lets `set` fill it, writes the feet of its pages, and gives the file. */
export async function madeSheet(facts: SheetFacts, set: (sheet: Sheet) => void): Promise<Uint8Array> {
  const pdf = openedPdf(facts);
  const written = collected(pdf);
  const root = pdf.struct('Document');
  pdf.addStructure(root);
  const sheet: Sheet = {
    pdf,
    root,
    left: margin,
    width: pdf.page.width - 2 * margin,
    top: margin,
    bottom: pdf.page.height - margin - footHeight,
    y: margin,
  };
  set(sheet);
  writeFeet(sheet, facts);
  pdf.end();
  return written;
}

export function child(sheet: Sheet, parent: Element, role: string): Element {
  const element = sheet.pdf.struct(role);
  parent.add(element);
  return element;
}

/** Draws what is no part of the document’s words: rules, bars, what repeats on every page. */
export function decorate(sheet: Sheet, draw: () => void, type: 'Layout' | 'Pagination' = 'Layout'): void {
  sheet.pdf.markContent('Artifact', { type });
  draw();
  sheet.pdf.endMarkedContent();
}

export function rule(
  sheet: Sheet,
  y: number,
  options: { x?: number; width?: number; color?: string } = {},
): void {
  const { x = sheet.left, width = sheet.width, color = colors.rule } = options;
  decorate(sheet, () => {
    sheet.pdf
      .lineWidth(0.6)
      .moveTo(x, y)
      .lineTo(x + width, y)
      .stroke(color);
  });
}

/** Begins a new page unless `height` more points fit on this one; a height that fits on none stays here. */
export function makeRoom(sheet: Sheet, height: number): void {
  const fitsOnAny = height <= sheet.bottom - sheet.top;
  if (sheet.y + height > sheet.bottom && fitsOnAny && sheet.y > sheet.top) nextPage(sheet);
}

export function nextPage(sheet: Sheet): void {
  sheet.pdf.addPage();
  sheet.y = sheet.top;
}

/** Lines as one element, over as many pages as they need. `y` ends below them. */
export function paragraph(
  sheet: Sheet,
  parent: Element,
  words: { text: string; style: TextStyle; role?: string; x?: number; width?: number },
): void {
  const { text, style, role = 'P', x = sheet.left, width = sheet.width } = words;
  const element = child(sheet, parent, role);
  for (const line of linesOf(sheet.pdf, text, style, width)) {
    if (sheet.y + style.leading > sheet.bottom) nextPage(sheet);
    writeLine(sheet, element, line, { x, y: sheet.y, width });
    sheet.y += style.leading;
  }
}

/** Draws a line as content of `element`. Where it can’t print every character, readers still get the true text. */
export function writeLine(
  sheet: Sheet,
  element: Element,
  line: Line,
  place: { x: number; y: number; width: number; right?: boolean },
): void {
  if (line.printed === '') return;
  const draw = () => drawText(sheet.pdf, line, place);
  if (line.printed === line.text.normalize('NFC')) element.add(draw);
  else element.add(sheet.pdf.struct('Span', { actual: line.text }, draw));
}

function openedPdf(facts: SheetFacts): PDFKit.PDFDocument {
  const on = new Date(`${facts.on}T00:00:00Z`);
  const pdf = new PDFDocument({
    size: facts.size === 'a4' ? 'A4' : 'LETTER',
    margin: 0,
    pdfVersion: '1.7',
    tagged: true,
    lang: 'en-US',
    displayTitle: true,
    bufferPages: true,
    info: {
      Title: facts.title,
      Author: facts.author,
      Creator: 'Grainwright',
      CreationDate: on,
      ModDate: on,
    },
  });
  pdf.registerFont('regular', Buffer.from(typeface('regular').bytes));
  pdf.registerFont('semibold', Buffer.from(typeface('semibold').bytes));
  escapeMetadata(pdf);
  return pdf;
}

/** pdfkit writes title and author into the XML metadata as they are, where “&” would break it. */
function escapeMetadata(pdf: PDFKit.PDFDocument): void {
  const write = pdf.endMetadata.bind(pdf);
  pdf.endMetadata = () => {
    const { Title = '', Author = '' } = pdf.info;
    Object.assign(pdf.info, { Title: escapedXml(Title), Author: escapedXml(Author) });
    write();
  };
}

function escapedXml(text: string): string {
  return text
    .replace(/[\p{Cc}\p{Cs}\ufffe\uffff]/gu, '')
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;');
}

function collected(pdf: PDFKit.PDFDocument): Promise<Uint8Array> {
  return new Promise((resolve, reject) => {
    const parts: Uint8Array[] = [];
    pdf.on('data', (part: Uint8Array) => parts.push(part));
    pdf.on('end', () => resolve(new Uint8Array(Buffer.concat(parts))));
    pdf.on('error', reject);
  });
}

/** The document names its parties in full; its feet may cut them short. */
function onOneLine(pdf: PDFKit.PDFDocument, text: string, width: number): string {
  const [first, second] = linesOf(pdf, text, styles.furniture, width - 8);
  return second === undefined ? text : `${first?.text ?? ''}…`;
}

function writeFeet(sheet: Sheet, { foot, lastFoot }: SheetFacts): void {
  const { pdf, left, width, bottom } = sheet;
  const { count } = pdf.bufferedPageRange();
  const style = styles.furniture;
  const [lastLine] = linesOf(pdf, lastFoot, style, width);
  if (lastLine !== undefined)
    writeLine(sheet, child(sheet, sheet.root, 'P'), lastLine, { x: left, y: bottom + 12, width });
  const numberWidth = 80;
  const [footLine] = linesOf(pdf, onOneLine(pdf, foot, width - numberWidth), style, width);
  for (let index = 0; index < count; index += 1) {
    pdf.switchToPage(index);
    const [number] = linesOf(pdf, `Page ${index + 1} of ${count}`, style, numberWidth);
    const place = { x: left, y: bottom + 24, width };
    decorate(
      sheet,
      () => {
        if (footLine !== undefined) drawText(pdf, footLine, place);
        if (number !== undefined) drawText(pdf, number, { ...place, right: true });
      },
      'Pagination',
    );
  }
}
