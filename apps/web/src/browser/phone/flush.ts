import { lockPhone } from './lock-phone.ts';
import { type SendingEnd, sendWaiting } from './sender.ts';
import { databaseName, type PhoneStore } from './store.ts';

/**
 * Sends what waits, from whichever window or worker comes first: two at once would only do everything twice. Null where
 * another one is at it already; with `wait`, that one is waited for.
 */
export async function flush(store: PhoneStore, wait = false): Promise<SendingEnd | null> {
  const work = async () => {
    const end = await sendWaiting({
      store,
      fetch: (path, init) => fetch(path, init),
      now: () => new Date().toISOString(),
    });
    if (end === 'signed_out') await lockPhone(store.owner);
    return end;
  };
  const options = wait ? {} : { ifAvailable: true };
  return navigator.locks.request(`${databaseName(store.owner)}-sending`, options, (lock) =>
    lock === null ? null : work(),
  );
}
