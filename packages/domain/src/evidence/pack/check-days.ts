import { provesInclusion } from '../merkle-tree.ts';
import { sealLeafHash } from '../seal.ts';
import { isSigned, type PublicKeys } from './check-keys.ts';
import { sealName } from './check-seals.ts';
import type { PackManifest } from './manifest.ts';
import { fails, note, orHolds, type PackCheck } from './pack-check.ts';
import { isCanonical, textIn } from './read-json.ts';
import type { PackDay, PackSeal } from './signed-record.ts';

/** Whether the sealed days are signed and chained, and whether each seal is proved to lie in its day. */
export function checkDays(
  manifest: PackManifest,
  seals: readonly PackSeal[],
  days: readonly PackDay[],
  keys: PublicKeys,
): readonly PackCheck[] {
  const found = [
    ...missingDays(manifest, days),
    ...days.flatMap((day) => checkDay(manifest, day, keys)),
    ...checkChain(days),
    ...seals.flatMap((seal) => checkInclusion(seal, days)),
  ];
  const newest = days.at(-1);
  const sentence =
    newest === undefined
      ? 'No day of these seals is over yet.'
      : `Each seal lies in its day; the days are signed and chained up to ${newest.day}, whose digest is ${newest.sha256}.`;
  return newest === undefined && found.length === 0 && manifest.seals.length === 0
    ? []
    : orHolds('days', found, sentence);
}

function missingDays(manifest: PackManifest, days: readonly PackDay[]): readonly PackCheck[] {
  return manifest.days
    .filter(({ sha256, day }) => !days.some((found) => found.day === day && found.sha256 === sha256))
    .map(({ day, file }) =>
      fails('days', `The sealed day ${day} in “${file}” is gone, or not the one that was signed.`),
    );
}

function checkDay(manifest: PackManifest, day: PackDay, keys: PublicKeys): readonly PackCheck[] {
  const name = `The sealed day ${day.day}`;
  return [
    ...(isCanonical(day.text) && isSigned(day, keys)
      ? []
      : [
          fails(
            'days',
            `${name}: its root or its text was changed after it was signed, or its signature was.`,
          ),
        ]),
    ...(day.said.tenant === manifest.tenant ? [] : [fails('days', `${name} is of another business.`)]),
  ];
}

/** Each day names the one before it and goes on with the number behind its last. */
function checkChain(days: readonly PackDay[]): readonly PackCheck[] {
  return days.flatMap((day, index) => {
    const before = days[index - 1];
    if (before === undefined) return [];
    const follows =
      textIn(day.said.previous) === before.sha256 && day.firstNumber === before.firstNumber + before.size;
    return follows
      ? []
      : [
          fails(
            'days',
            `The sealed day ${day.day} does not follow ${before.day}: a day was changed or left out.`,
          ),
        ];
  });
}

function checkInclusion(seal: PackSeal, days: readonly PackDay[]): readonly PackCheck[] {
  const name = sealName({ number: seal.number, kind: textIn(seal.said.kind) });
  const day = days.find(
    ({ firstNumber, size }) => firstNumber <= seal.number && seal.number < firstNumber + size,
  );
  if (day === undefined)
    return [
      note(
        'days',
        `${name} is so new that its day was not over when the pack was made: no root holds it yet.`,
      ),
    ];
  const proof = day.proofs.find(({ number }) => number === seal.number)?.proof;
  if (proof === undefined) return [fails('days', `${name} has no proof that it lies in ${day.day}.`)];
  const { firstNumber, size, root } = day;
  const leafHash = sealLeafHash(seal.text);
  return provesInclusion({ leafHash, index: seal.number - firstNumber, size, proof, root })
    ? []
    : [fails('days', `${name} does not lie in ${day.day}: its proof does not lead to the root of that day.`)];
}
