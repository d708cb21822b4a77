import { isSignedBy } from '../signed-text.ts';
import { checkDays } from './check-days.ts';
import { checkFiles } from './check-files.ts';
import { checkKeys, readKeys } from './check-keys.ts';
import { checkMedia } from './check-media.ts';
import { checkSeals } from './check-seals.ts';
import type { PrintedDay, PublicKeys } from './key-trust.ts';
import { type PackManifest, packFiles, readManifest } from './manifest.ts';
import { fails, note, type PackCheck } from './pack-check.ts';
import type { ArchivedFile } from './read-archive.ts';
import { isCanonical, objectIn, parsedJson, textIn } from './read-json.ts';
import { type PackDay, type PackSeal, readPackDays, readPackSeal } from './signed-record.ts';

/** What whoever checks holds from elsewhere; empty where they hold nothing. */
export interface PrintedDigests {
  /** The digest or root of a sealed day, as a statement prints it. */
  readonly day: string;
  readonly keyId: string;
}

export const nothingPrinted: PrintedDigests = { day: '', keyId: '' };

export interface PackReport {
  /** Nothing fails. Whose key it is, only a comparison with what was printed or published can tell. */
  readonly holds: boolean;
  readonly checks: readonly PackCheck[];
  /** What the pack says it is of; null where that can’t be read. */
  readonly manifest: PackManifest | null;
}

/**
 * Checks an evidence pack by nothing but what lies in it, and tells everything that was looked at in plain words. The
 * same on a server, at a command line and in a browser.
 */
export function verifyPack(
  archived: readonly ArchivedFile[],
  printed: PrintedDigests = nothingPrinted,
): PackReport {
  const files = new Map(archived.map((file) => [file.name, file]));
  const text = files.get(packFiles.manifest)?.text ?? null;
  const manifest = text === null ? null : readManifest(text);
  if (text === null || manifest === null) {
    const sentence = `“${packFiles.manifest}” is missing or can’t be read. This is no evidence pack, or a part of it is gone.`;
    return { holds: false, checks: [fails('manifest', sentence)], manifest: null };
  }
  const { keys, faults } = readKeys(files.get(packFiles.keys)?.text ?? '');
  const seals = sealsIn(manifest, files);
  const days = daysIn(manifest, files);
  const expectedKeyId = asDigest(printed.keyId);
  const printedDay = findPrinted(asDigest(printed.day), days);
  const found = [
    ...checkManifest(text, manifest, files, keys),
    ...checkFiles(manifest, files),
    ...faults,
    ...checkKeys({ manifest, keys, seals, days, printed: printedDay, expectedKeyId }),
    ...checkSeals(manifest, seals, keys),
    ...checkDays(manifest, seals, days, keys),
    ...checkMedia(manifest, seals, files),
  ];
  const checks = [
    ...found,
    ...(asDigest(printed.day) === '' ? [] : [checkPrinted(printedDay, found)]),
    ...(printed.day === '' && printed.keyId === '' ? [note('printed', nothingComparedWords)] : []),
  ];
  return { holds: checks.every(({ result }) => result !== 'fails'), checks, manifest };
}

const nothingComparedWords =
  'No archive can prove by itself whose key signed it. Compare the digest of a sealed day with one printed on a ' +
  'statement, or the key with the one that the business tells you.';

function sealsIn(manifest: PackManifest, files: ReadonlyMap<string, ArchivedFile>): readonly PackSeal[] {
  return manifest.seals.flatMap(({ file }) => {
    const seal = readPackSeal(file, files.get(file)?.text ?? '');
    return seal === null ? [] : [seal];
  });
}

function daysIn(manifest: PackManifest, files: ReadonlyMap<string, ArchivedFile>): readonly PackDay[] {
  const names = [...new Set(manifest.days.map(({ file }) => file))];
  return names
    .flatMap((name) => readPackDays(name, files.get(name)?.text ?? ''))
    .toSorted((a, b) => (a.day < b.day ? -1 : 1));
}

function checkManifest(
  text: string,
  manifest: PackManifest,
  files: ReadonlyMap<string, ArchivedFile>,
  keys: PublicKeys,
): readonly PackCheck[] {
  const signed = objectIn(parsedJson(files.get(packFiles.signature)?.text ?? '') ?? undefined);
  const publicKey = keys.get(manifest.keyId);
  const signature = textIn(signed.signature);
  if (signature === '')
    return [
      fails(
        'manifest',
        `“${packFiles.signature}” is missing or can’t be read: nobody signed this list of contents.`,
      ),
    ];
  if (publicKey === undefined)
    return [
      fails(
        'manifest',
        'The list of contents names a key that is not in the pack, so that nobody can tell who signed it.',
      ),
    ];
  if (!isCanonical(text) || !isSignedBy({ text, signature }, publicKey))
    return [fails('manifest', 'The list of contents was changed after it was signed, or its signature was.')];
  return [
    {
      about: 'manifest',
      result: 'holds',
      sentence: `The list of contents is signed, as of ${manifest.asOf}.`,
    },
  ];
}

/** A digest stands for more than a root, and is looked for first. */
function findPrinted(digest: string, days: readonly PackDay[]): PrintedDay | null {
  if (digest === '') return null;
  const byDigest = days.find(({ sha256 }) => sha256 === digest);
  if (byDigest !== undefined) return { day: byDigest, by: 'digest' };
  const byRoot = days.find(({ root }) => root === digest);
  return byRoot === undefined ? null : { day: byRoot, by: 'root' };
}

function checkPrinted(printed: PrintedDay | null, others: readonly PackCheck[]): PackCheck {
  if (printed === null)
    return fails(
      'printed',
      'The digest that you compared it with is of none of the sealed days in this pack.',
    );
  const { day } = printed.day;
  const what = printed.by === 'root' ? 'root' : 'digest';
  if (others.some(({ result }) => result === 'fails'))
    return note(
      'printed',
      `The ${what} that you compared it with is that of ${day}, but it does not stand for what fails in this pack.`,
    );
  return {
    about: 'printed',
    result: 'holds',
    sentence:
      printed.by === 'digest'
        ? `The digest that you compared it with is that of ${day}: nothing sealed up to then was changed since it was printed.`
        : `The root that you compared it with is that of ${day}: the seals of that day were not changed since it was printed. Of the days before it proves nothing: compare the digest that is printed beside it, which proves them too.`,
  };
}

/** As people copy it: with spaces, dashes and capitals. */
function asDigest(typed: string): string {
  return typed.replace(/[\s-]+/g, '').toLowerCase();
}
