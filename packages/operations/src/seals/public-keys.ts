import { listKeySeals, listPublicKeys, type ShownSigningKey, type TenantTransaction } from '@grainwright/db';
import type { Instant } from '@grainwright/domain';

export interface PublicKeyView extends ShownSigningKey {
  /** `waiting`: it signs once the chain has introduced it. */
  readonly state: 'waiting' | 'in_use' | 'retired';
  /** When the key after it took over; null until then. */
  readonly retiredAt: Instant | null;
  /** The seal that introduces it; null for the first key, and for one that waits. */
  readonly introducedBy: number | null;
}

/** Keys in the order in which they were made. */
export async function publicKeysOf(tx: TenantTransaction): Promise<readonly PublicKeyView[]> {
  const keys = await listPublicKeys(tx);
  const introductions = new Map((await listKeySeals(tx)).map((seal) => [seal.subjectId, seal]));
  const begun = keys.filter(({ id, cause }) => cause === 'first' || introductions.has(id));
  const current = begun.at(-1);
  return keys.map((key) => {
    const place = begun.indexOf(key);
    const next = place === -1 ? undefined : begun[place + 1];
    return {
      ...key,
      state: key === current ? 'in_use' : place === -1 ? 'waiting' : 'retired',
      retiredAt: next === undefined ? null : (introductions.get(next.id)?.sealedAt ?? null),
      introducedBy: introductions.get(key.id)?.number ?? null,
    };
  });
}
