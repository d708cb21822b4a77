import { sealKeySeed } from '@grainwright/auth';
import type { SigningKeyRow } from '@grainwright/db';
import { ok, publicKeyOf, type Result, refuse, type SignedText, signText } from '@grainwright/domain';
import type { Services } from '../services.ts';
import type { PackRecords } from './pack-records.ts';

export interface PackSigner {
  readonly keyId: string;
  readonly sign: (text: string) => SignedText;
}

/** The newest key that the chain began with or has introduced. */
export function signingKeyOf({ keys, seals }: Pick<PackRecords, 'keys' | 'seals'>): SigningKeyRow {
  const [first] = seals;
  const known = new Set(seals.filter(({ kind }) => kind === 'key').map(({ subjectId }) => subjectId));
  const key = keys.findLast(({ id, keyId }) => known.has(id) || keyId === first?.keyId);
  if (key === undefined) throw new Error('the seals’ key is not on record');
  return key;
}

/**
 * Signs with that key. Refuses with `unavailable` where what it was made from has changed: the background begins a new
 * one with the next seal.
 */
export function packSigner(
  { links }: Pick<Services, 'links'>,
  records: Pick<PackRecords, 'tenantId' | 'keys' | 'seals'>,
): Result<PackSigner> {
  const { salt, publicKey, keyId } = signingKeyOf(records);
  const seed = sealKeySeed(links.key, salt, records.tenantId);
  if (publicKeyOf(seed) !== publicKey)
    return refuse(
      'unavailable',
      'The secret that signing keys are made from has changed. A new key begins with the next seal; try again then.',
    );
  return ok({ keyId, sign: (text) => signText(text, seed) });
}
