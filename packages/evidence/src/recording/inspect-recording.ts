import { type FileHandle, open } from 'node:fs/promises';
import { ok, type RecordingMediaType, type Result, refuse } from '@grainwright/domain';
import { readBoxes } from './media-boxes.ts';

export interface RecordingFacts {
  readonly mediaType: RecordingMediaType;
  /** Whether the file says where it was recorded, or may. */
  readonly namesPlace: boolean;
}

/**
 * Says what a received recording is from its bytes, whatever its name or the sender says: WebM (Matroska's EBML header,
 * RFC 8794 §11.2 and its DocType), MP4 (ISO/IEC 14496-12 §4.3 `ftyp`) or QuickTime, each whole enough to be played.
 * Refuses everything else with `recording_unreadable`. Nothing of it is decoded.
 */
export async function inspectRecording(path: string): Promise<Result<RecordingFacts>> {
  await using file = await open(path, 'r');
  const { size } = await file.stat();
  const { buffer, bytesRead } = await file.read(Buffer.alloc(headWanted), 0, headWanted, 0);
  const head = buffer.subarray(0, bytesRead);
  if (head.toString('latin1', 0, 4) === '\x1aE\xdf\xa3') return inspectWebm(file, head);
  const kind = readKind(head);
  if (kind === null) return refuse('recording_unreadable', notAVideo, 'recording');
  const boxes = await readBoxes(file, size);
  if (boxes === null || !boxes.hasMovie) return refuse('recording_unreadable', endsEarly, 'recording');
  return ok({ mediaType: kind, namesPlace: boxes.namesPlace });
}

const headWanted = 4096;
const notAVideo =
  'This is no video that can be kept. Record the walk around the vehicle as MP4, MOV or WebM, or take pictures of it.';
const endsEarly = 'The recording ends early or is damaged, so it could not be played. Record it again.';

/** The DocType (EBML id 0x4282) follows within the header. */
async function inspectWebm(file: FileHandle, head: Buffer): Promise<Result<RecordingFacts>> {
  const at = head.indexOf(Buffer.from([0x42, 0x82]));
  // Its length is a number whose first bit marks that it has one byte.
  const length = at < 0 ? 0 : (head[at + 2] ?? 0) & 0x7f;
  if (at < 0 || head.toString('latin1', at + 3, at + 3 + length) !== 'webm')
    return refuse('recording_unreadable', notAVideo, 'recording');
  return ok({ mediaType: 'video/webm', namesPlace: await saysLocation(file) });
}

/** By tags like LOCATION and RECORDING_LOCATION. Eight letters by chance in a film are not to be expected. */
async function saysLocation(file: FileHandle): Promise<boolean> {
  const word = Buffer.from('LOCATION');
  const chunk = Buffer.alloc(256 * 1024);
  for (let at = 0; ; ) {
    const { bytesRead } = await file.read(chunk, 0, chunk.length, at);
    if (chunk.subarray(0, bytesRead).includes(word)) return true;
    if (bytesRead < chunk.length) return false;
    // A word that a chunk's end cuts through is whole in the next.
    at += bytesRead - (word.length - 1);
  }
}

function readKind(head: Buffer): RecordingMediaType | null {
  const box = head.toString('latin1', 4, 8);
  // Older cameras write QuickTime files without saying so in front.
  if (['moov', 'mdat', 'wide'].includes(box)) return 'video/quicktime';
  if (box !== 'ftyp') return null;
  const brand = head.toString('latin1', 8, 12);
  if (brand === 'qt  ') return 'video/quicktime';
  return films.test(brand) ? 'video/mp4' : null;
}

/** Brands of films as phones write them; pictures (heic, avif) and sound (M4A) have others. */
const films = /^(iso[m2-9]|mp4[12]|mmp4|avc1|M4V |M4VP|3g[ps2][4-9abc]|dash|msdh|hvc1|av01)$/;
