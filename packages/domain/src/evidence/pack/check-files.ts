import { type PackManifest, packFiles } from './manifest.ts';
import { fails, namesOf, orHolds, type PackCheck } from './pack-check.ts';
import type { ArchivedFile } from './read-archive.ts';

/** Whether exactly the files that were signed are there, each as it was. */
export function checkFiles(
  manifest: PackManifest,
  found: ReadonlyMap<string, ArchivedFile>,
): readonly PackCheck[] {
  const changed = manifest.files.filter(({ name, sha256 }) => {
    const file = found.get(name);
    return file !== undefined && file.sha256 !== sha256;
  });
  const swapped = changed.filter(({ name }) => {
    const sha256 = found.get(name)?.sha256;
    return changed.some((other) => other.name !== name && other.sha256 === sha256);
  });
  const faults = [
    ...missingFiles(manifest, found),
    ...extraFiles(manifest, found),
    ...(swapped.length === 0
      ? []
      : [
          fails(
            'files',
            `Files changed places: ${namesOf(swapped.map(({ name }) => name))}. Each holds what another one held.`,
          ),
        ]),
    ...changed
      .filter((file) => !swapped.includes(file))
      .map(({ name }) => fails('files', changedWords(name))),
  ];
  const { length } = manifest.files;
  return orHolds(
    'files',
    faults,
    `All ${length} files are there, each byte for byte as it was signed, and no other.`,
  );
}

function missingFiles(
  manifest: PackManifest,
  found: ReadonlyMap<string, ArchivedFile>,
): readonly PackCheck[] {
  return manifest.files
    .filter(({ name }) => !found.has(name))
    .map(({ name }) => fails('files', `“${name}” is missing: it was in the pack when it was signed.`));
}

function extraFiles(manifest: PackManifest, found: ReadonlyMap<string, ArchivedFile>): readonly PackCheck[] {
  const listed = new Set<string>([
    packFiles.manifest,
    packFiles.signature,
    ...manifest.files.map(({ name }) => name),
  ]);
  return [...found.keys()]
    .filter((name) => !listed.has(name))
    .map((name) => fails('files', `“${name}” was added: it was not in the pack when it was signed.`));
}

/** What a change of this file means, for whoever reads the report. */
function changedWords(name: string): string {
  if (name === packFiles.document)
    return `The document “${name}” is not the one that was signed: its words, prices or pictures were changed.`;
  if (name.startsWith('photos/'))
    return `The picture “${name}” was changed: it is not, byte for byte, the one that was signed.`;
  if (name.startsWith('recordings/'))
    return `The recording “${name}” was changed: it is not, byte for byte, the one that was signed.`;
  if (name.startsWith('seals/')) return `The seal “${name}” was changed after the pack was signed.`;
  if (name.startsWith('days/')) return `The sealed day “${name}” was changed after the pack was signed.`;
  if (name === packFiles.keys) return `The public keys in “${name}” were changed after the pack was signed.`;
  return `“${name}” was changed after the pack was signed.`;
}
