import { isSignedBy } from '../signed-text.ts';
import { checkDays } from './check-days.ts';
import { checkFiles } from './check-files.ts';
import { checkKeys, readKeys } from './check-keys.ts';
import { checkMedia } from './check-media.ts';
import { asDigest, checkPrinted, findPrinted, nothingPrinted, type PrintedDigests } from './check-printed.ts';
import { checkSeals } from './check-seals.ts';
import type { PublicKeys } from './key-trust.ts';
import { type PackManifest, packFiles, readManifest } from './manifest.ts';
import { fails, type PackCheck } from './pack-check.ts';
import type { ArchivedFile } from './read-archive.ts';
import { isCanonical, objectIn, parsedJson, textIn } from './read-json.ts';
import { type PackDay, type PackSeal, readPackDays, readPackSeal } from './signed-record.ts';

export interface PackReport {
  /** Nothing fails. Whose key it is, only a comparison with what was printed or published can tell. */
  readonly holds: boolean;
  /** Nothing of the pack itself fails, whatever it was compared with. */
  readonly holdsByItself: boolean;
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
    const checks = [fails('manifest', sentence)];
    return { holds: false, holdsByItself: false, checks, manifest: null };
  }
  const { keys, faults } = readKeys(files.get(packFiles.keys)?.text ?? '');
  const seals = sealsIn(manifest, files);
  const days = daysIn(manifest, files);
  const printedDay = findPrinted(asDigest(printed.day), days);
  const found = [
    ...checkManifest(text, manifest, files, keys),
    ...checkFiles(manifest, files),
    ...faults,
    ...checkKeys({ manifest, keys, seals, days, printed: printedDay }),
    ...checkSeals(manifest, seals, keys),
    ...checkDays(manifest, seals, days, keys),
    ...checkMedia(manifest, seals, files),
  ];
  const checks = [...found, ...checkPrinted(printed, { day: printedDay, manifest, keys, others: found })];
  const failed = checks.filter(({ result }) => result === 'fails');
  return {
    holds: failed.length === 0,
    holdsByItself: failed.every(({ about }) => about === 'printed'),
    checks,
    manifest,
  };
}

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
