import { expect, test } from 'vitest';
import { filesIn } from '../photo/photo-fixtures.ts';
import { scratchDirectory } from '../scratch-directory.test-support.ts';
import { inspectRecording } from './inspect-recording.ts';

/** Files are put together here by hand after ISO/IEC 14496-12 §4.2 and RFC 8794; nothing in them is played. */

const file = filesIn(await scratchDirectory());

function box(type: string, ...contents: readonly (Buffer | string)[]): Buffer {
  const content = Buffer.concat(
    contents.map((each) => (typeof each === 'string' ? Buffer.from(each, 'latin1') : each)),
  );
  const head = Buffer.alloc(8);
  head.writeUInt32BE(content.length + 8);
  head.write(type, 4, 'latin1');
  return Buffer.concat([head, content]);
}

/** With its length in eight bytes, as large media data has. */
function largeBox(type: string, content: Buffer): Buffer {
  const head = Buffer.alloc(16);
  head.writeUInt32BE(1);
  head.write(type, 4, 'latin1');
  head.writeBigUInt64BE(BigInt(content.length + 16), 8);
  return Buffer.concat([head, content]);
}

const brand = (name: string) => box('ftyp', name, '\0\0\0\0', name);
const film = Buffer.alloc(2000, 7);
const webm = (docType: string, after = '') =>
  Buffer.concat([
    Buffer.from('1a45dfa39f4286810142f7810142f2810442f381084282', 'hex'),
    Buffer.from([0x80 | docType.length]),
    Buffer.from(docType),
    Buffer.alloc(5000),
    Buffer.from(after),
  ]);

let files = 0;

const inspect = async (content: Buffer) => {
  files += 1;
  return inspectRecording(await file(`film-${files}`, content));
};

test('WebM, MP4 and QuickTime are told by their bytes', async () => {
  const moov = box('moov', box('mvhd', Buffer.alloc(100)));
  const kinds = [
    webm('webm'),
    Buffer.concat([brand('isom'), moov, box('mdat', film)]),
    Buffer.concat([brand('iso5'), moov, box('moof', Buffer.alloc(20)), box('mdat', film)]),
    Buffer.concat([brand('qt  '), largeBox('mdat', film), moov]),
    Buffer.concat([box('wide'), box('mdat', film), moov]),
  ];
  const found = await Promise.all(kinds.map(inspect));
  expect(found.map((each) => (each.ok ? each.value : each.problem.detail))).toEqual([
    { mediaType: 'video/webm', namesPlace: false },
    { mediaType: 'video/mp4', namesPlace: false },
    { mediaType: 'video/mp4', namesPlace: false },
    { mediaType: 'video/quicktime', namesPlace: false },
    { mediaType: 'video/quicktime', namesPlace: false },
  ]);
});

test('everything else is refused: pictures, sound, pages, other films, and what ends early', async () => {
  const whole = Buffer.concat([brand('isom'), box('moov', Buffer.alloc(50)), box('mdat', film)]);
  const others = [
    Buffer.alloc(0),
    Buffer.from('<!doctype html><script>alert(1)</script>'),
    Buffer.from('\xff\xd8\xff\xe0 not a film', 'latin1'),
    Buffer.concat([brand('heic'), box('meta', Buffer.alloc(40))]),
    Buffer.concat([brand('M4A '), box('moov', Buffer.alloc(40))]),
    webm('matroska'),
    whole.subarray(0, whole.length - 100),
    Buffer.concat([brand('isom'), box('mdat', film)]),
    Buffer.concat([brand('isom'), Buffer.from('\0\0\0\x02moov', 'latin1')]),
  ];
  const found = await Promise.all(others.map(inspect));
  expect(found.map((each) => each.ok || each.problem.code)).toEqual(others.map(() => 'recording_unreadable'));
});

test('a place is found wherever phones write one, and not in the film itself', async () => {
  const place = '+41.5083-081.2500/';
  const named = (moov: Buffer) => Buffer.concat([brand('mp42'), box('mdat', film), moov]);
  // ISO/IEC 14496-12 §8.4.3.2: version and flags, four bytes, the handler.
  const track = (handler: string) => box('mdia', box('hdlr', '\0\0\0\0\0\0\0\0', handler, Buffer.alloc(13)));
  const places = [
    named(box('moov', box('udta', box('\xa9xyz', '\0\x12\x15\xc7', place)))),
    named(box('moov', box('udta', box('loci', Buffer.alloc(30))))),
    named(box('moov', box('meta', box('keys', 'mdtacom.apple.quicktime.location.ISO6709')))),
    named(Buffer.concat([box('moov', Buffer.alloc(20)), box('uuid', 'exif:GPSLatitude')])),
    named(Buffer.concat([box('moov', Buffer.alloc(20)), box('uuid', 'Exif\0\0MM')])),
    named(box('moov', box('udta', 'GPSCoordinates'))),
    ...['text', 'sbtl', 'meta'].map((handler) => named(box('moov', box('trak', track(handler))))),
    webm('webm', 'LOCATION'),
  ];
  const found = await Promise.all(places.map(inspect));
  expect(found).toEqual(
    places.map(() => ({ ok: true, value: expect.objectContaining({ namesPlace: true }) })),
  );
  const seenAndHeard = ['vide', 'soun'].map((handler) => box('trak', track(handler)));
  expect(await inspect(named(box('moov', ...seenAndHeard, box('udta', 'text meta'))))).toMatchObject({
    value: { namesPlace: false },
  });
  const inFilm = Buffer.concat([brand('isom'), box('moov', Buffer.alloc(20)), box('mdat', '\xa9xyz loci')]);
  expect(await inspect(inFilm)).toMatchObject({ ok: true, value: { namesPlace: false } });
});
