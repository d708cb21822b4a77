import { sealName } from './check-seals.ts';
import { isSigned, type PublicKeys } from './key-trust.ts';
import type { PackManifest } from './manifest.ts';
import { fails, note, orHolds, type PackCheck } from './pack-check.ts';
import { isCanonical, textIn } from './read-json.ts';
import { daysFrom, liesIn } from './seal-in-day.ts';
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
  if (day === undefined) return checkOutside(seal, name, days.at(-1));
  const found = liesIn(seal, day);
  if (found === null) return [fails('days', `${name} has no proof that it lies in ${day.day}.`)];
  if (!found)
    return [
      fails('days', `${name} does not lie in ${day.day}: its proof does not lead to the root of that day.`),
    ];
  return Math.abs(daysFrom(day, seal)) <= 1
    ? []
    : [fails('days', `${name} lies in ${day.day}, but says that it was put on another day.`)];
}

/** A seal may be in no day yet only behind the newest day, by its number and by its date. */
function checkOutside(seal: PackSeal, name: string, newest: PackDay | undefined): readonly PackCheck[] {
  if (newest !== undefined && seal.number < newest.firstNumber + newest.size)
    return [
      fails('days', `${name} has its number before the end of ${newest.day}, and lies in no sealed day.`),
    ];
  if (newest !== undefined && !(daysFrom(newest, seal) >= -1))
    return [
      fails(
        'days',
        `${name} lies in no sealed day, but says that it was put before ${newest.day}: it was dated back.`,
      ),
    ];
  return [
    note('days', `${name} is so new that its day was not over when the pack was made: no root holds it yet.`),
  ];
}
