import { drawFacts } from './facts.ts';
import { child, type Element, paragraph, rule, type Sheet, writeLine } from './sheet.ts';
import { colors, styles, type TextStyle } from './styles.ts';
import { linesOf } from './text.ts';

/** Who a document is from or to. `lines` are the address and whatever else stands below the name. */
export interface DocumentParty {
  readonly name: string;
  readonly lines: readonly string[];
}

export interface DocumentSeller extends DocumentParty {
  /** PNG or JPEG. */
  readonly logo: Uint8Array | null;
}

/** A fact beside the address: “Due”, “Sep 4, 2026”. */
export interface DocumentFact {
  readonly term: string;
  readonly value: string;
}

export interface Letterhead {
  readonly seller: DocumentSeller;
  readonly buyer: DocumentParty;
  readonly title: string;
  /** Below the title: the document’s number. */
  readonly subtitle: string;
  readonly facts: readonly DocumentFact[];
  /** Takes little of the page: where what follows is what counts. */
  readonly compact?: boolean;
}

const logoBox = { width: 170, height: 46 };
const smallLogoBox = { width: 120, height: 30 };

/** The head of a document’s first page: who it is from, what it is, who it is for, and its facts. */
export function drawLetterhead(sheet: Sheet, head: Letterhead): void {
  const section = child(sheet, sheet.root, 'Sect');
  const half = sheet.width / 2 - 10;
  const titleWidth = head.compact === true ? 150 : half;
  const atRight = (width: number) => ({ x: sheet.left + sheet.width - width, width });
  sideBySide(
    sheet,
    () => drawSeller(sheet, section, head, sheet.width - titleWidth - 20),
    () => drawTitle(sheet, section, head, atRight(titleWidth)),
  );
  sheet.y += 8;
  rule(sheet, sheet.y, { color: colors.ink });
  sheet.y += 12;
  sideBySide(
    sheet,
    () => {
      paragraph(sheet, section, { text: 'To', style: styles.small, width: half });
      drawParty(sheet, section, head.buyer, styles.strong, half);
    },
    () => drawFacts(sheet, section, head.facts, { ...atRight(half), dense: head.compact === true }),
  );
  sheet.y += head.compact === true ? 10 : 18;
}

/** Two blocks beside each other; below each other where the first one goes on over the page. */
function sideBySide(sheet: Sheet, drawLeft: () => void, drawRight: () => void): void {
  const { y, pdf } = sheet;
  const { page } = pdf;
  drawLeft();
  const leftEnd = sheet.y;
  if (pdf.page === page) sheet.y = y;
  drawRight();
  if (pdf.page === page) sheet.y = Math.max(sheet.y, leftEnd);
}

function drawSeller(
  sheet: Sheet,
  section: Element,
  { seller, compact = false }: Pick<Letterhead, 'seller' | 'compact'>,
  width: number,
): void {
  const box = compact ? smallLogoBox : logoBox;
  if (seller.logo !== null) {
    drawPicture(sheet, section, {
      bytes: seller.logo,
      alt: `Logo of ${seller.name}`,
      x: sheet.left,
      y: sheet.y,
      ...box,
      align: 'left',
    });
    sheet.y += box.height + 6;
  }
  const lines = compact ? [seller.lines.join(' · ')] : seller.lines;
  drawParty(sheet, section, { name: seller.name, lines }, styles.seller, width);
}

function drawParty(
  sheet: Sheet,
  section: Element,
  party: DocumentParty,
  nameStyle: TextStyle,
  width: number,
): void {
  paragraph(sheet, section, { text: party.name, style: nameStyle, width });
  const text = party.lines.filter((line) => line.trim() !== '').join('\n');
  if (text !== '') paragraph(sheet, section, { text, style: styles.body, width });
}

function drawTitle(
  sheet: Sheet,
  section: Element,
  { title, subtitle }: Letterhead,
  place: { readonly x: number; readonly width: number },
): void {
  const heading = child(sheet, section, 'H1');
  const lines = [
    ...linesOf(sheet.pdf, title, styles.title, place.width),
    ...linesOf(sheet.pdf, subtitle, styles.subtitle, place.width),
  ];
  for (const line of lines) {
    writeLine(sheet, heading, line, { ...place, y: sheet.y, right: true });
    sheet.y += line.style.leading;
  }
}

export interface PlacedPicture {
  /** PNG or JPEG. */
  readonly bytes: Uint8Array;
  readonly alt: string;
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
  readonly align: 'left' | 'center';
}

/** A picture as a figure, as large as its box allows. Throws for what is neither PNG nor JPEG. */
export function drawPicture(sheet: Sheet, parent: Element, picture: PlacedPicture): void {
  const { bytes, alt, x, y, width, height, align } = picture;
  const [first, second] = bytes;
  const isJpeg = first === 0xff && second === 0xd8;
  const isPng = first === 0x89 && second === 0x50;
  if (!isJpeg && !isPng) throw new Error('a picture of a document is neither PNG nor JPEG');
  // The types of pdfkit leave out what its structure elements take for figures.
  const options: PDFKit.Mixins.StructureElementOptions & { placement: string; bbox: readonly number[] } = {
    alt,
    placement: 'Block',
    bbox: [x, y, x + width, y + height],
  };
  const figure = sheet.pdf.struct('Figure', options);
  parent.add(figure);
  const fit: PDFKit.Mixins.ImageOption = { fit: [width, height], valign: 'center' };
  const placed = align === 'center' ? { ...fit, align } : fit;
  figure.add(() => sheet.pdf.image(Buffer.from(bytes), x, y, placed));
}
