import { provesInclusion } from '../merkle-tree.ts';
import { sealLeafHash } from '../seal.ts';
import { textIn } from './read-json.ts';
import type { PackDay, PackSeal } from './signed-record.ts';

/** Whether the proof of a seal leads to the root of this day; null where there is no proof. */
export function liesIn(seal: PackSeal, { firstNumber, size, root, proofs }: PackDay): boolean | null {
  const proof = proofs.find(({ number }) => number === seal.number)?.proof;
  if (proof === undefined) return null;
  return provesInclusion({
    leafHash: sealLeafHash(seal.text),
    index: seal.number - firstNumber,
    size,
    proof,
    root,
  });
}

/**
 * How many calendar days a seal was put after this day. The seal tells universal time and the day is that of the
 * business, so that one day more or less is the same moment in another time zone.
 */
export function daysFrom({ day }: PackDay, seal: PackSeal): number {
  const sealedAt = Date.parse(textIn(seal.said.sealedAt));
  return Math.floor(sealedAt / dayMs) - Date.parse(`${day}T00:00:00Z`) / dayMs;
}

const dayMs = 86_400_000;
