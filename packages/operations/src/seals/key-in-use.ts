import { sealKeySalt, sealKeySeed } from '@grainwright/auth';
import {
  insertSigningKey,
  listKeySeals,
  listSigningKeys,
  type SigningKeyRow,
  type TenantTransaction,
} from '@grainwright/db';
import { keyIdOf, type PersonId, publicKeyOf, type SigningKeyId, toId } from '@grainwright/domain';
import type { Services } from '../services.ts';

export type KeyServices = Pick<Services, 'links' | 'now' | 'newId'>;

/** The key that signs now. */
export interface KeyInUse {
  readonly id: SigningKeyId;
  readonly keyId: string;
  readonly publicKey: string;
  /** The secret half, as long as this transaction lasts. */
  readonly seed: Uint8Array;
  /** The key that it takes over from, where it has to introduce itself because that one can't sign any more. */
  readonly takesOverFrom: Pick<SigningKeyRow, 'keyId' | 'publicKey'> | null;
}

/**
 * The newest key that the chain began with or has introduced; without any, the first one is made. Where what the keys
 * are made from has changed, the old one can't be made again: then a new key begins, and says so. Under the lock of the
 * chain of seals.
 */
export async function findKeyInUse(services: KeyServices, tx: TenantTransaction): Promise<KeyInUse> {
  const keys = await listSigningKeys(tx);
  const introduced = new Set((await listKeySeals(tx)).map((seal) => seal.subjectId));
  const current = keys.findLast(({ id, cause }) => cause === 'first' || introduced.has(id));
  if (current === undefined) {
    const first = newKey(services, tx, { number: 1, cause: 'first', madeBy: null });
    if (!(await insertSigningKey(tx, first))) throw new Error('another first key was made at the same time');
    return inUse(services, tx, first, null);
  }
  if (isStillMade(services, tx, current)) return inUse(services, tx, current, null);
  const waiting = keys.find(
    (key) => key.cause === 'secret_changed' && !introduced.has(key.id) && isStillMade(services, tx, key),
  );
  return inUse(services, tx, waiting ?? (await beginAnew(services, tx, keys.length + 1)), current);
}

/** A key for a business, made from the secret outside the database and a salt of its own. */
export function newKey(
  services: KeyServices,
  { tenantId }: Pick<TenantTransaction, 'tenantId'>,
  more: { readonly number: number; readonly cause: SigningKeyRow['cause']; readonly madeBy: PersonId | null },
): SigningKeyRow {
  const salt = sealKeySalt();
  const publicKey = publicKeyOf(sealKeySeed(services.links.key, salt, tenantId));
  const id = toId<SigningKeyId>(services.newId());
  return { id, ...more, keyId: keyIdOf(publicKey), publicKey, salt, madeAt: services.now() };
}

async function beginAnew(
  services: KeyServices,
  tx: TenantTransaction,
  number: number,
): Promise<SigningKeyRow> {
  const key = newKey(services, tx, { number, cause: 'secret_changed', madeBy: null });
  // The owner may be changing it in this moment; the job is done again a little later.
  if (!(await insertSigningKey(tx, key))) throw new Error('another key was made at the same time');
  return key;
}

function isStillMade(
  { links }: KeyServices,
  { tenantId }: TenantTransaction,
  { salt, publicKey }: SigningKeyRow,
): boolean {
  return publicKeyOf(sealKeySeed(links.key, salt, tenantId)) === publicKey;
}

function inUse(
  { links }: KeyServices,
  { tenantId }: TenantTransaction,
  { id, keyId, publicKey, salt }: SigningKeyRow,
  takesOverFrom: SigningKeyRow | null,
): KeyInUse {
  return {
    id,
    keyId,
    publicKey,
    seed: sealKeySeed(links.key, salt, tenantId),
    takesOverFrom,
  };
}
