import { readSnapshot } from '../../api/phone/schemas.ts';
import type { KeptSnapshot } from './projection.ts';
import { keptLately } from './refresh-snapshot.ts';
import type { PhoneStore } from './store.ts';

/** What was taken along last, read as it has to be; null where nothing was, or another version of the app wrote it. */
export async function keptSnapshot(store: Pick<PhoneStore, 'readSnapshot'>): Promise<KeptSnapshot | null> {
  const kept = await keptLately(store);
  const snapshot = readSnapshot(kept?.snapshot);
  return kept === null || snapshot === null ? null : { askedAt: kept.askedAt, snapshot };
}
