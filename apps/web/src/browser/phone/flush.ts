import { lockPhone } from './lock-phone.ts';
import { databaseName } from './phone-database.ts';
import { type SendingEnd, sendWaiting } from './sender.ts';
import type { PhoneStore } from './store.ts';

/**
 * Sends what waits, from whichever window or worker comes first: two at once would only do everything twice. Null where
 * another one is at it already; with `wait`, that one is waited for.
 */
export async function flush(store: PhoneStore, wait = false): Promise<SendingEnd | null> {
  const work = async () => {
    let hasSent = false;
    const markSent: PhoneStore['markSent'] = (id, at) => {
      hasSent = true;
      return store.markSent(id, at);
    };
    const end = await sendWaiting({
      store: { ...store, markSent },
      fetch: (path, init) => fetch(path, init),
      now: () => new Date().toISOString(),
    });
    // What was taken along before is not how it is now.
    if (hasSent) await store.noteChange();
    if (end === 'signed_out') await lockPhone(store.owner);
    return end;
  };
  const options = wait ? {} : { ifAvailable: true };
  return navigator.locks.request(`${databaseName(store.owner)}-sending`, options, (lock) =>
    lock === null ? null : work(),
  );
}
