import exifr from 'exifr';

/** What the camera wrote down. All of it is the camera's word: a clock may be wrong, and anybody can write EXIF. */
export interface ExifFacts {
  /** When the shutter opened by the camera's clock, `YYYY-MM-DDTHH:MM:SS`, without a zone. */
  readonly takenAtLocal?: string;
  /** How far the camera's clock was from UTC, `+HH:MM` or `-HH:MM`. */
  readonly takenAtOffset?: string;
  /** WGS 84 degrees, north and east positive. */
  readonly position?: { readonly latitude: number; readonly longitude: number };
  /** Maker and model as the camera writes them. */
  readonly camera?: string;
  /** All of it as printable words by the tags' names, bounded; the position included, so for the staff alone. */
  readonly exif?: Readonly<Record<string, string>>;
}

/**
 * Reads an EXIF block as the image library hands it over. Tags and forms: Exif 2.32 (CIPA DC-008-2019) §4.6.5
 * DateTimeOriginal 0x9003 and OffsetTimeOriginal 0x9011, DateTimeDigitized 0x9004 and its offset 0x9012, Make
 * 0x010F, Model 0x0110, §4.6.6 GPS. What is absent, blank or impossible is left out; a broken block gives nothing.
 */
export async function readExif(block: Uint8Array | undefined): Promise<ExifFacts> {
  const tags: ExifTags = block === undefined ? {} : await parseTags(block);
  const original = localTime(tags.DateTimeOriginal);
  const takenAtLocal = original ?? localTime(tags.CreateDate);
  const takenAtOffset = offset(original === undefined ? tags.OffsetTimeDigitized : tags.OffsetTimeOriginal);
  const position = readPosition(tags.latitude, tags.longitude);
  const camera = readCamera(tags.Make, tags.Model);
  const exif = inWords(tags);
  return {
    ...(takenAtLocal !== undefined && { takenAtLocal }),
    ...(takenAtLocal !== undefined && takenAtOffset !== undefined && { takenAtOffset }),
    ...(position !== undefined && { position }),
    ...(camera !== undefined && { camera }),
    ...(Object.keys(exif).length > 0 && { exif }),
  };
}

/** The tags that are read, by the parser's names for them; whatever anybody wrote there. */
interface ExifTags {
  readonly DateTimeOriginal?: unknown;
  readonly OffsetTimeOriginal?: unknown;
  readonly CreateDate?: unknown;
  readonly OffsetTimeDigitized?: unknown;
  readonly latitude?: unknown;
  readonly longitude?: unknown;
  readonly Make?: unknown;
  readonly Model?: unknown;
}

/** The parser wants the bare TIFF structure; JPEG and WebP hand it over behind `Exif\0\0`, PNG without. */
async function parseTags(block: Uint8Array): Promise<ExifTags> {
  const prefixed = Buffer.from(block.subarray(0, 4)).toString('latin1') === 'Exif';
  try {
    // Values as stored: revived dates would be read in this machine's time zone.
    const tags: unknown = await exifr.parse(prefixed ? block.subarray(6) : block, {
      reviveValues: false,
      translateValues: false,
    });
    return typeof tags === 'object' && tags !== null ? tags : {};
  } catch {
    return {};
  }
}

function localTime(value: unknown): string | undefined {
  if (typeof value !== 'string') return undefined;
  const parts = /^(\d{4}):(\d{2}):(\d{2}) (\d{2}):(\d{2}):(\d{2})/.exec(value);
  if (parts === null) return undefined;
  const text = `${parts[1]}-${parts[2]}-${parts[3]}T${parts[4]}:${parts[5]}:${parts[6]}`;
  const time = new Date(`${text}Z`);
  const exists = !Number.isNaN(time.getTime()) && time.toISOString().startsWith(text);
  return exists && time.getUTCFullYear() >= 1990 ? text : undefined;
}

function offset(value: unknown): string | undefined {
  return typeof value === 'string' && /^[+-](0\d|1[0-4]):[0-5]\d$/.test(value) ? value : undefined;
}

function readPosition(latitude: unknown, longitude: unknown): ExifFacts['position'] {
  if (typeof latitude !== 'number' || typeof longitude !== 'number') return undefined;
  const onEarth = Math.abs(latitude) <= 90 && Math.abs(longitude) <= 180;
  // Exactly 0, 0 is what cameras write before they have a fix.
  return onEarth && (latitude !== 0 || longitude !== 0) ? { latitude, longitude } : undefined;
}

function readCamera(make: unknown, model: unknown): string | undefined {
  const words = [make, model]
    .filter((word) => typeof word === 'string')
    .map(printable)
    .filter(Boolean);
  const [maker, name] = words;
  const text = name !== undefined && maker !== undefined && name.startsWith(maker) ? name : words.join(' ');
  return text === '' ? undefined : text.slice(0, 100);
}

const tagsMax = 60;
const nameLengthMax = 40;
const wordsLengthMax = 200;

/** Texts and numbers, and short lists of them. What is bytes (a maker's own notes, a thumbnail) stays in the original. */
function inWords(tags: object): Readonly<Record<string, string>> {
  const told = Object.entries(tags)
    .map(([name, value]): [string, string] => [printable(name).slice(0, nameLengthMax), wordsOf(value)])
    .filter(([name, words]) => name !== '' && words !== '')
    .toSorted(([a], [b]) => (a < b ? -1 : 1));
  return Object.fromEntries(told.slice(0, tagsMax));
}

function wordsOf(value: unknown): string {
  const words = Array.isArray(value) ? value.slice(0, 16).map(wordOf).join(', ') : wordOf(value);
  return printable(words).slice(0, wordsLengthMax).toWellFormed();
}

function wordOf(value: unknown): string {
  return typeof value === 'string' || typeof value === 'number' ? String(value) : '';
}

function printable(text: string): string {
  return text
    .toWellFormed()
    .replace(/[\p{Cc}\p{Cf}\p{Cn}\p{Co}]/gu, '')
    .trim();
}
