import { digestHex } from '../digest.ts';
import { sealKinds } from '../seal.ts';
import { isSigned, type PublicKeys } from './key-trust.ts';
import type { PackedSeal, PackManifest } from './manifest.ts';
import { fails, note, orHolds, type PackCheck } from './pack-check.ts';
import { isCanonical, isObject, type JsonObject, objectIn, parsedJson, textIn } from './read-json.ts';
import { sealedFacts, sealedFactsBefore } from './sealed-facts.ts';
import type { PackSeal } from './signed-record.ts';

/** Whether each seal is signed, names what lies under it, and stands in its place in the chain. */
export function checkSeals(
  manifest: PackManifest,
  seals: readonly PackSeal[],
  keys: PublicKeys,
): readonly PackCheck[] {
  const found = [
    ...listedAndThere(manifest, seals),
    ...seals.flatMap((seal) => checkSeal(manifest, seal, keys)),
    ...checkOrder(seals),
  ];
  if (seals.length === 0 && manifest.seals.length === 0)
    return [note('seals', 'The pack holds no seal: nothing in it was approved, accepted or credited yet.')];
  return orHolds(
    'seals',
    found,
    seals.length === 1
      ? 'Its seal is signed, and what lies under it is what was sealed.'
      : `All ${seals.length} seals are signed, in order, and what lies under them is what was sealed.`,
  );
}

function listedAndThere(manifest: PackManifest, seals: readonly PackSeal[]): readonly PackCheck[] {
  return manifest.seals
    .filter(({ file }) => !seals.some((seal) => seal.file === file))
    .map((listed) =>
      fails('seals', `${sealName(listed)} is gone, or its file “${listed.file}” can’t be read.`),
    );
}

function checkSeal(manifest: PackManifest, seal: PackSeal, keys: PublicKeys): readonly PackCheck[] {
  const listed = manifest.seals.find(({ file }) => file === seal.file);
  const name = sealName({ number: seal.number, kind: textIn(seal.said.kind) });
  const sentences = [
    ...(isCanonical(seal.text) && isSigned(seal, keys)
      ? []
      : [
          `${name}: its text was changed after it was signed, or its signature was. Its date, number and digest prove nothing.`,
        ]),
    ...(digestHex(seal.content) === seal.said.content
      ? []
      : [
          `${name}: the record under it is not the one that was sealed. Its names, dates and prices prove nothing.`,
        ]),
    ...brokenTexts(seal).map((what) => `${name}: ${what} was changed after it was frozen.`),
    ...foreign(manifest, seal).map(
      (what) => `${name} is of another ${what}: it does not belong in this pack.`,
    ),
    ...(listed === undefined ? [] : misplaced(listed, seal, name)),
  ];
  return sentences.map((sentence) => fails('seals', sentence));
}

/** A change is named where the signed list of contents still says what the record said. */
function misplaced(listed: PackedSeal, seal: PackSeal, name: string): readonly string[] {
  const facts = [...sealedFactsBefore(seal.content), ...sealedFacts(seal.said, seal.content)];
  const now = new Map(facts.map((fact) => [fact.name, fact.value]));
  return [
    ...(listed.number === seal.number
      ? []
      : [`“${seal.file}” should be ${sealName(listed)}, and is ${name}: seals changed places.`]),
    ...(listed.sha256 === seal.sha256 ? [] : [`${name} is not the one that was signed with the pack.`]),
    ...(listed.number === seal.number
      ? listed.says
          .filter((fact) => !facts.some(({ name: of, value }) => of === fact.name && value === fact.value))
          .map(
            (fact) =>
              `${name}: “${fact.name}” reads “${now.get(fact.name) ?? ''}”; when the pack was signed it was “${fact.value}”.`,
          )
      : []),
  ];
}

/** Texts inside the record that are named by their own digests. */
function brokenTexts(seal: PackSeal): readonly string[] {
  const content = objectIn(parsedJson(seal.content) ?? undefined);
  const frozen: readonly (readonly [string, JsonObject[string] | undefined])[] = [
    ['the estimate that was answered', objectIn(content.version).estimate],
    ['what stood before the approver', content.seen],
    ['what was shown to the signer', content.shown],
    ['what was shown of the visit', objectIn(content.visit).shown],
  ];
  return frozen
    .filter(([, value]) => isObject(value) && digestHex(textIn(value.text)) !== value.digest)
    .map(([what]) => what);
}

function foreign(manifest: PackManifest, { said }: PackSeal): readonly string[] {
  const ofWork = said.kind !== 'key' && said.kind !== 'credit';
  return [
    ...(said.tenant === manifest.tenant ? [] : ['business']),
    ...(ofWork && said.workOrder !== manifest.workOrder.id ? ['work order'] : []),
  ];
}

/** Numbers go up; a seal next to another names it; what was sealed later has no earlier date. */
function checkOrder(seals: readonly PackSeal[]): readonly PackCheck[] {
  const faults: PackCheck[] = [];
  for (const [index, seal] of seals.entries()) {
    const before = seals[index - 1];
    const name = sealName({ number: seal.number, kind: textIn(seal.said.kind) });
    if (seal.number === 1 && seal.said.previous !== null)
      faults.push(fails('seals', `${name} is the first and still names one before it.`));
    if (before === undefined) continue;
    if (seal.number <= before.number)
      faults.push(
        fails('seals', `${name} stands behind number ${before.number}: the order of the seals was changed.`),
      );
    else if (seal.number === before.number + 1 && seal.said.previous !== before.sha256)
      faults.push(
        fails('seals', `${name} does not follow the seal before it: the chain is broken between them.`),
      );
    if (Date.parse(textIn(seal.said.sealedAt)) < Date.parse(textIn(before.said.sealedAt)))
      faults.push(
        fails(
          'seals',
          `${name} says that it is older than number ${before.number}, which was put before it.`,
        ),
      );
  }
  return faults;
}

export function sealName({ number, kind }: { readonly number: number; readonly kind: string }): string {
  const kinds: Readonly<Record<string, string>> = sealKinds;
  const words = kinds[kind];
  return words === undefined ? `Seal ${number}` : `Seal ${number} (${words})`;
}
