/** On the sign-in page, wherever somebody came from: nobody is signed in on this phone now. */
import { lockPhone } from './lock-phone.ts';
import { readOwner } from './owner.ts';

if ('indexedDB' in window) void lock();

async function lock(): Promise<void> {
  const owner = await readOwner();
  if (owner !== null) await lockPhone(owner);
}
