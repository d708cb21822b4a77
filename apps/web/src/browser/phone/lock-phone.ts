import { forgetOwner, readOwner } from './owner.ts';
import { photosOf } from './photos-along.ts';
import type { PhoneOwner } from './store.ts';

/**
 * What a phone shows of somebody is shown no more until they sign in again: the app knows nobody, and the pictures that
 * were taken along go. What was not sent stays for them.
 */
export async function lockPhone(owner: PhoneOwner): Promise<void> {
  const now = await readOwner();
  // Somebody else may have signed in since.
  if (now?.tenantId === owner.tenantId && now.personId === owner.personId) await forgetOwner();
  if ('caches' in globalThis) await caches.delete(photosOf({ owner }));
}
