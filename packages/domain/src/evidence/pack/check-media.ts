import { sealName } from './check-seals.ts';
import type { PackedMedia, PackManifest } from './manifest.ts';
import { fails, namesOf, note, orHolds, type PackCheck } from './pack-check.ts';
import type { ArchivedFile } from './read-archive.ts';
import { type JsonObject, listIn, objectIn, parsedJson, textIn, textOrNull } from './read-json.ts';
import type { PackSeal } from './signed-record.ts';

/** Whether the pictures are those that were sealed: by the digest of the original, or by that of its bare copy. */
export function checkMedia(
  manifest: PackManifest,
  seals: readonly PackSeal[],
  files: ReadonlyMap<string, ArchivedFile>,
): readonly PackCheck[] {
  const { media } = manifest;
  if (media.length === 0) return [note('pictures', 'The pack holds no pictures.')];
  const found = [
    ...media.flatMap((each) => checkFile(each, files)),
    ...seals.flatMap((seal) => checkSealed(seal, media)),
    ...notes(media, seals),
  ];
  const proved = media.filter((each) => isProved(each, seals));
  const sentence =
    proved.length === media.length
      ? `All ${media.length} pictures are, byte for byte, those that were sealed.`
      : `${proved.length} of ${media.length} pictures are, byte for byte, those that were sealed. What stands for the others is said below.`;
  return orHolds('pictures', found, sentence);
}

/** A covered copy is another picture on purpose: only the signed list vouches for it. */
function checkFile(media: PackedMedia, files: ReadonlyMap<string, ArchivedFile>): readonly PackCheck[] {
  if (media.file === null) return [];
  const file = files.get(media.file);
  if (file === undefined) return [fails('pictures', `The picture “${media.file}” is missing.`)];
  const wanted = { original: media.originalSha256, bare: media.bareSha256 };
  if (media.as !== 'original' && media.as !== 'bare') return [];
  return file.sha256 === wanted[media.as]
    ? []
    : [
        fails(
          'pictures',
          `The picture “${media.file}” is not the one that was taken: at least one of its pixels or bytes was changed.`,
        ),
      ];
}

function checkSealed(seal: PackSeal, media: readonly PackedMedia[]): readonly PackCheck[] {
  const name = sealName({ number: seal.number, kind: textIn(seal.said.kind) });
  return photosUnder(seal).flatMap((sealed) => {
    const id = textIn(sealed.photo);
    const packed = media.find((each) => each.id === id);
    const purpose = textIn(sealed.purpose);
    if (packed === undefined)
      return [fails('pictures', `A picture (${purpose}) that ${name} was put on is not in the pack’s list.`)];
    const called = packed.file ?? id;
    const bare = textOrNull(sealed.bareSha256);
    return [
      ...(packed.originalSha256 === sealed.sha256 && (bare === null || packed.bareSha256 === bare)
        ? []
        : [fails('pictures', `“${called}” is not the picture that ${name} was put on: it was exchanged.`)]),
      ...(packed.purpose === purpose
        ? []
        : [
            fails(
              'pictures',
              `“${called}” is called ${packed.purpose} here; when ${name} was put it was ${purpose}.`,
            ),
          ]),
    ];
  });
}

function notes(media: readonly PackedMedia[], seals: readonly PackSeal[]): readonly PackCheck[] {
  const covered = media.filter(({ as }) => as === 'covered');
  const absent = media.filter(({ file }) => file === null);
  const unsealed = media.filter(({ id, file }) => file !== null && !isSealed(id, seals));
  return [
    ...(covered.length === 0
      ? []
      : [
          note(
            'pictures',
            `${namesOf(covered.map(nameOf))}: parts are covered, so only the business can show the whole picture that was sealed.`,
          ),
        ]),
    ...(absent.length === 0
      ? []
      : [note('pictures', `${absent.length} of them are not in the pack itself; their digests are.`)]),
    ...(unsealed.length === 0
      ? []
      : [
          note(
            'pictures',
            `${namesOf(unsealed.map(nameOf), 20)}: no seal names them. Only the signature of this pack stands for them, which the business makes when it makes the pack; it does not show what they were before. ${whyUnsealed(seals)}`,
          ),
        ]),
  ];
}

/** Pictures are sealed with an answer; recordings never are. */
function whyUnsealed(seals: readonly PackSeal[]): string {
  const isAnswered = seals.some(({ said }) => said.kind === 'acceptance' || said.kind === 'release');
  return isAnswered
    ? 'They came after the last answer that was sealed, or are recordings, which no seal names.'
    : 'Pictures are sealed with an answer, and no acceptance of the finished work is in the pack: the terms between the business and this account may ask for none, or nobody has signed yet.';
}

function nameOf({ file, id }: PackedMedia): string {
  return file ?? id;
}

/** Whether a seal names the very bytes that are here. */
function isProved({ id, as, originalSha256, bareSha256 }: PackedMedia, seals: readonly PackSeal[]): boolean {
  const named = seals.flatMap(photosUnder).filter(({ photo }) => photo === id);
  if (as === 'original') return named.some(({ sha256 }) => sha256 === originalSha256);
  return as === 'bare' && bareSha256 !== null && named.some((each) => each.bareSha256 === bareSha256);
}

function isSealed(id: string, seals: readonly PackSeal[]): boolean {
  return seals.some((seal) => photosUnder(seal).some(({ photo }) => photo === id));
}

function photosUnder(seal: PackSeal): readonly JsonObject[] {
  return listIn(objectIn(parsedJson(seal.content) ?? undefined).photos).map(objectIn);
}
