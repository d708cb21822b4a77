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
  const end = await navigator.locks.request(lockOf(store), options, (lock) =>
    lock === null ? null : work(),
  );
  if (end !== null) tellEnd(store, end);
  return end;
}

/** Whether a window or the worker is at sending just now. */
export async function isBeingSent(store: Pick<PhoneStore, 'owner'>): Promise<boolean> {
  const { held = [] } = await navigator.locks.query();
  return held.some(({ name }) => name === lockOf(store));
}

/** Calls back with what every sending came to, in whichever window or worker. */
export function hearEnds(store: Pick<PhoneStore, 'owner'>, hear: (end: SendingEnd) => void): void {
  const channel = endsOf(store);
  channel.addEventListener('message', ({ data }) => {
    const end = ends.find((each) => each === data);
    if (end !== undefined) hear(end);
  });
}

const ends: readonly SendingEnd[] = ['all', 'no_answer', 'later', 'signed_out'];

function tellEnd(store: Pick<PhoneStore, 'owner'>, end: SendingEnd): void {
  const channel = endsOf(store);
  channel.postMessage(end);
  channel.close();
}

function endsOf(store: Pick<PhoneStore, 'owner'>): BroadcastChannel {
  return new BroadcastChannel(`${lockOf(store)}-ends`);
}

function lockOf({ owner }: Pick<PhoneStore, 'owner'>): string {
  return `${databaseName(owner)}-sending`;
}
