import { listUsualLines } from '@grainwright/db';
import {
  adviseMethods,
  ok,
  type Result,
  settledMaterial,
  type UsualRepair,
  usualRepair,
} from '@grainwright/domain';
import { type Actor, performAsStaff } from '../perform.ts';
import type { Services } from '../services.ts';
import { type LineInput, readDamage, readFinding } from './read-line.ts';

export type ProposeRepairInput = Pick<
  LineInput,
  'part' | 'side' | 'damage' | 'observation' | 'looksLike' | 'overruledMaterial' | 'overruleReason'
>;

/**
 * How a damage is usually repaired in this business: the family and the methods that were written down for it last.
 * Refuses with `invalid_input` where the damage or the finding can't be read.
 */
export function proposeRepair(
  services: Services,
  actor: Actor,
  input: ProposeRepairInput,
): Promise<Result<UsualRepair>> {
  return performAsStaff(services, actor, 'write_up', async ({ tx }) => {
    const damage = readDamage(input);
    if (!damage.ok) return damage;
    const finding = readFinding(input);
    if (!finding.ok) return finding;
    const { part, kind } = damage.value;
    const material = finding.value === null ? null : settledMaterial(finding.value);
    const works = finding.value === null ? [] : adviseMethods(finding.value).works;
    return ok(usualRepair(await listUsualLines(tx, kind), { kind, part, material, works }));
  });
}
