import {
  countWaitingForSeal,
  findLastSeal,
  findLastSealDay,
  insertSigningKey,
  listSigningKeys,
  type SealDayRow,
} from '@grainwright/db';
import { type Instant, ok, type Result, refuse, type SigningKeyId } from '@grainwright/domain';
import { type Actor, performAsStaff, record } from '../perform.ts';
import type { Services } from '../services.ts';
import { newKey } from './key-in-use.ts';
import { type PublicKeyView, publicKeysOf } from './public-keys.ts';

/** How the chain of a business stands, for its owner. */
export interface SealsView {
  readonly seals: number;
  readonly lastSealedAt: Instant | null;
  /** What waits for its seal. */
  readonly waiting: number;
  readonly lastDay: SealDayRow | null;
  /** In the order in which they were made. */
  readonly keys: readonly PublicKeyView[];
}

export function readSeals(services: Services, actor: Actor): Promise<Result<SealsView>> {
  return performAsStaff(services, actor, 'change_settings', async ({ tx }) => {
    const last = await findLastSeal(tx);
    return ok({
      seals: last?.number ?? 0,
      lastSealedAt: last?.sealedAt ?? null,
      waiting: await countWaitingForSeal(tx),
      lastDay: await findLastSealDay(tx),
      keys: await publicKeysOf(tx),
    });
  });
}

/**
 * Makes a new signing key. It signs once the chain has introduced it, with a seal by the key before it; the worker puts
 * that at once. The same id again is the same key. Refuses with `wrong_state` before the first seal, and while another
 * new key waits.
 */
export function rotateSealKey(
  services: Services,
  actor: Actor,
  id: SigningKeyId,
): Promise<Result<readonly PublicKeyView[]>> {
  return performAsStaff(services, actor, 'change_settings', async (scope) => {
    const { tx } = scope;
    const keys = await publicKeysOf(tx);
    if (keys.some((key) => key.id === id)) return ok(keys);
    if (keys.length === 0)
      return refuse('wrong_state', 'Nothing is sealed yet. The first key is made with the first seal.');
    if (keys.some(({ state }) => state === 'waiting')) return another;
    const number = (await listSigningKeys(tx)).length + 1;
    const key = { ...newKey(services, tx, { number, cause: 'rotated', madeBy: actor.personId }), id };
    if (!(await insertSigningKey(tx, key))) return another;
    await record(scope, 'seal_key_rotated', { kind: 'signing_key', id }, { key: key.keyId });
    return ok(await publicKeysOf(tx));
  });
}

const another = refuse('wrong_state', 'A new key is being introduced already. Look again in a moment.');
