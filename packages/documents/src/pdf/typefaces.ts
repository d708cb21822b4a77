import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

export type Face = 'regular' | 'semibold';

export interface Typeface {
  readonly bytes: Uint8Array;
  /** Can it draw this Unicode code point? */
  readonly covers: (codePoint: number) => boolean;
}

const files: Readonly<Record<Face, string>> = {
  regular: '400Regular/SourceSans3_400Regular.ttf',
  semibold: '600SemiBold/SourceSans3_600SemiBold.ttf',
};

const opened = new Map<Face, Typeface>();

/**
 * The faces that documents are set in: Source Sans 3 (SIL Open Font License 1.1), for Latin with all its accents,
 * Vietnamese, Greek and Cyrillic. Its figures and its minus sign are all of one width.
 */
export function typeface(face: Face): Typeface {
  const known = opened.get(face);
  if (known !== undefined) return known;
  const path = fileURLToPath(import.meta.resolve(`@expo-google-fonts/source-sans-3/${files[face]}`));
  const bytes = readFileSync(path);
  const read: Typeface = { bytes, covers: coverage(bytes) };
  opened.set(face, read);
  return read;
}

interface Range {
  readonly first: number;
  readonly last: number;
}

/** From the font’s `cmap` table, subtable format 12 (OpenType 1.9, “cmap”), the one for all of Unicode. */
function coverage(bytes: Uint8Array): (codePoint: number) => boolean {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const ranges = rangesAt(view, fullSubtable(view, tableOffset(view, 'cmap')));
  return (codePoint) => ranges.some(({ first, last }) => first <= codePoint && codePoint <= last);
}

function tableOffset(view: DataView, tag: string): number {
  for (let record = 12; record < 12 + 16 * view.getUint16(4); record += 16) {
    const letters = [0, 1, 2, 3].map((index) => view.getUint8(record + index));
    if (String.fromCharCode(...letters) === tag) return view.getUint32(record + 8);
  }
  throw new Error(`the font has no table ${tag}`);
}

function fullSubtable(view: DataView, cmap: number): number {
  for (let record = cmap + 4; record < cmap + 4 + 8 * view.getUint16(cmap + 2); record += 8) {
    const subtable = cmap + view.getUint32(record + 4);
    if (view.getUint16(subtable) === 12) return subtable;
  }
  throw new Error('the font has no cmap subtable of format 12');
}

function rangesAt(view: DataView, subtable: number): readonly Range[] {
  const count = view.getUint32(subtable + 12);
  return Array.from({ length: count }, (_, index) => {
    const group = subtable + 16 + 12 * index;
    return { first: view.getUint32(group), last: view.getUint32(group + 4) };
  });
}
