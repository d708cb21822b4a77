import { orientationExif } from './orientation-exif.ts';

/**
 * A JPEG without its application segments but for JFIF, color profile and Adobe's color transform, without comments,
 * and without whatever follows its end. Markers: ITU-T T.81 annex B; APP0 JFIF: ITU-T T.871 §10.1; APP2 ICC: ICC.1
 * annex B.4; APP14: ITU-T T.872 §6.5.3.
 */
export function bareJpeg(bytes: Uint8Array, orientation: number): Uint8Array {
  const kept: Uint8Array[] = [];
  let at = 2;
  let jfifFirst = false;
  for (;;) {
    const marker = markerAt(bytes, at);
    if (marker.code === endOfImage) break;
    const segment = segmentAt(bytes, marker);
    const end = marker.code === startOfScan ? endOfScan(bytes, segment.end) : segment.end;
    if (isKept(marker.code, segment.payload)) {
      if (kept.length === 0) jfifFirst = marker.code === app0;
      kept.push(bytes.subarray(marker.at, end));
    }
    at = end;
  }
  if (orientation !== 1) kept.splice(jfifFirst ? 1 : 0, 0, exifSegment(orientation));
  return Buffer.concat([Uint8Array.of(0xff, 0xd8), ...kept, Uint8Array.of(0xff, endOfImage)]);
}

const endOfImage = 0xd9;
const startOfScan = 0xda;
const comment = 0xfe;
const app0 = 0xe0;
const app15 = 0xef;
/** What the kept application segments begin with. */
const keptBeginnings: Readonly<Record<number, string>> = {
  [app0]: 'JFIF\0',
  [app0 + 2]: 'ICC_PROFILE\0',
  [app0 + 14]: 'Adobe',
};

function isKept(code: number, payload: Uint8Array): boolean {
  if (code === comment) return false;
  if (code < app0 || code > app15) return true;
  const beginning = keptBeginnings[code];
  return (
    beginning !== undefined &&
    Buffer.from(payload.subarray(0, beginning.length)).toString('latin1') === beginning
  );
}

interface Marker {
  readonly code: number;
  /** Where its 0xFF stands; fill bytes before it are dropped. */
  readonly at: number;
}

function markerAt(bytes: Uint8Array, from: number): Marker {
  let at = from;
  if (bytes[at] !== 0xff) throw new Error(`the JPEG has no marker at ${at}`);
  while (bytes[at + 1] === 0xff) at += 1;
  const code = bytes[at + 1];
  if (code === undefined || code === 0) throw new Error('the JPEG ends early');
  return { code, at };
}

function segmentAt(
  bytes: Uint8Array,
  { at }: Marker,
): { readonly payload: Uint8Array; readonly end: number } {
  const length = (bytes[at + 2] ?? 0) * 256 + (bytes[at + 3] ?? 0);
  const end = at + 2 + length;
  if (length < 2 || end > bytes.length) throw new Error('a segment of the JPEG is longer than the file');
  return { payload: bytes.subarray(at + 4, end), end };
}

/** Compressed data goes on to the first 0xFF that neither stands for itself (0x00) nor only restarts (0xD0 to 0xD7). */
function endOfScan(bytes: Uint8Array, from: number): number {
  for (let at = bytes.indexOf(0xff, from); at !== -1; at = bytes.indexOf(0xff, at + 1)) {
    const next = bytes[at + 1] ?? 0;
    const isData = next === 0 || (next >= 0xd0 && next <= 0xd7) || next === 0xff;
    if (!isData) return at;
  }
  throw new Error('the JPEG ends early');
}

function exifSegment(orientation: number): Uint8Array {
  const block = Buffer.concat([Buffer.from('Exif\0\0', 'latin1'), orientationExif(orientation)]);
  return Buffer.concat([Uint8Array.of(0xff, 0xe1, 0, block.length + 2), block]);
}
