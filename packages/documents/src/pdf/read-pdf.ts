import { getDocument, OPS } from 'pdfjs-dist/legacy/build/pdf.mjs';

/** An element of a page’s structure tree, with the words that belong to it. */
export interface ReadElement {
  readonly role: string;
  readonly alt: string;
  readonly text: string;
  readonly children: readonly ReadElement[];
}

/** A piece of text and where it stands, in points from the page’s bottom left corner. */
export interface ReadText {
  readonly text: string;
  readonly x: number;
  readonly baseline: number;
  readonly width: number;
}

/** A picture and where it stands, in points from the page’s bottom left corner. */
export interface ReadImage {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

export interface ReadPage {
  readonly size: readonly [number, number];
  readonly root: ReadElement;
  /** Every piece of text, furniture too. */
  readonly texts: readonly ReadText[];
  readonly images: readonly ReadImage[];
}

export interface ReadPdf {
  readonly title: string;
  readonly language: string;
  readonly pages: readonly ReadPage[];
  /** All that readers hear, in reading order, one element a line. */
  readonly heard: readonly string[];
}

/** Reads a tagged PDF back with pdf.js, as a viewer or a screen reader would. */
export async function readPdf(bytes: Uint8Array): Promise<ReadPdf> {
  const loading = getDocument({ data: new Uint8Array(bytes), useSystemFonts: false, verbosity: 0 });
  const pdf = await loading.promise;
  const metadata: { info: { Title?: unknown; Language?: unknown } } = await pdf.getMetadata();
  const pages: ReadPage[] = [];
  for (let number = 1; number <= pdf.numPages; number += 1) {
    const page = await pdf.getPage(number);
    const { width, height } = page.getViewport({ scale: 1 });
    const content = await page.getTextContent({ includeMarkedContent: true });
    const { texts, byContent } = readTexts(content.items);
    const root = readElement(await page.getStructTree(), byContent);
    const { fnArray, argsArray } = await page.getOperatorList();
    pages.push({ size: [width, height], texts, root, images: readImages(fnArray, argsArray) });
  }
  await loading.destroy();
  const { Title, Language } = metadata.info;
  return { title: String(Title), language: String(Language), pages, heard: pages.flatMap(heardOn) };
}

/** All elements of a role, in reading order. */
export function elementsOf(element: ReadElement, role: string): readonly ReadElement[] {
  const own = element.role === role ? [element] : [];
  return [...own, ...element.children.flatMap((each) => elementsOf(each, role))];
}

function heardOn({ root }: ReadPage): readonly string[] {
  const lines = (element: ReadElement): readonly string[] => [
    ...(element.text === '' ? [] : [element.text]),
    ...element.children.flatMap(lines),
  ];
  return lines(root);
}

/** By ISO 32000-1 section 8.3.4: a picture fills the unit square, which the matrices before it have placed. */
function readImages(operators: readonly number[], operands: readonly unknown[]): readonly ReadImage[] {
  const images: ReadImage[] = [];
  const kept: Matrix[] = [];
  let matrix: Matrix = [1, 0, 0, 1, 0, 0];
  for (const [index, operator] of operators.entries()) {
    if (operator === OPS.save) kept.push(matrix);
    else if (operator === OPS.restore) matrix = kept.pop() ?? matrix;
    else if (operator === OPS.transform) matrix = placedIn(matrix, numbersIn(operands[index]));
    else if (operator === OPS.paintImageXObject) {
      const [a, , , d, e, f] = matrix;
      images.push({ x: Math.min(e, e + a), y: Math.min(f, f + d), width: Math.abs(a), height: Math.abs(d) });
    }
  }
  return images;
}

type Matrix = readonly [number, number, number, number, number, number];

function placedIn([a, b, c, d, e, f]: Matrix, inner: readonly number[]): Matrix {
  const [A = 1, B = 0, C = 0, D = 1, E = 0, F = 0] = inner;
  return [a * A + c * B, b * A + d * B, a * C + c * D, b * C + d * D, a * E + c * F + e, b * E + d * F + f];
}

function numbersIn(operands: unknown): readonly number[] {
  return Array.isArray(operands) || ArrayBuffer.isView(operands)
    ? Array.from(operands as ArrayLike<number>)
    : [];
}

type Item = Readonly<Record<string, unknown>>;

function readTexts(items: readonly unknown[]) {
  const texts: ReadText[] = [];
  const byContent = new Map<string, string>();
  const open: string[] = [];
  for (const item of items.filter(isItem)) {
    if (item.type === 'beginMarkedContent') open.push('');
    else if (item.type === 'beginMarkedContentProps') open.push(typeof item.id === 'string' ? item.id : '');
    else if (item.type === 'endMarkedContent') open.pop();
    else if (typeof item.str === 'string' && Array.isArray(item.transform)) {
      const id = open.findLast((each) => each !== '');
      if (id !== undefined) byContent.set(id, `${byContent.get(id) ?? ''}${item.str}`);
      const [x, baseline] = item.transform.slice(4).map(Number);
      if (item.str.trim() !== '')
        texts.push({ text: item.str, x: x ?? 0, baseline: baseline ?? 0, width: Number(item.width) });
    }
  }
  return { texts, byContent };
}

function readElement(node: unknown, byContent: ReadonlyMap<string, string>): ReadElement {
  if (!isItem(node)) return { role: '', alt: '', text: '', children: [] };
  const below = Array.isArray(node.children) ? node.children.filter(isItem) : [];
  const text = below
    .filter((each) => each.type === 'content')
    .map((each) => byContent.get(String(each.id)) ?? '')
    .join(' ')
    .replace(/\s+/g, ' ')
    .trim();
  const children = below
    .filter((each) => each.type === undefined)
    .map((each) => readElement(each, byContent));
  return { role: String(node.role), alt: String(node.alt ?? ''), text, children };
}

function isItem(value: unknown): value is Item {
  return typeof value === 'object' && value !== null;
}
