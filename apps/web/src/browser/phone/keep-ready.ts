/**
 * keepReady(store, place): what every field page does for the phone, with or without signal: it says what waits, sends
 * it when a page opens, when the signal comes back and while there is something to send, and takes the day along anew
 * where `snapshotDue` says so.
 */
import { bannerOf } from './banner.ts';
import { flush } from './flush.ts';
import { takePhotosAlong } from './photos-along.ts';
import { keptLately, refreshSnapshot } from './refresh-snapshot.ts';
import { snapshotDue } from './snapshot-due.ts';
import type { PhoneStore } from './store.ts';

const retryMilliseconds = 15_000;
/** For so long what was sent stays, so that a page that shows it can still tell. */
const keptSentMilliseconds = 600_000;

export interface Ready {
  /** Tries to send now. */
  readonly send: () => Promise<void>;
}

export function keepReady(store: PhoneStore, place: HTMLElement | null): Ready {
  let reached: boolean | null = null;
  let signedOut = false;
  const tell = async () => {
    const actions = await store.listActions();
    const banner = bannerOf({ actions, reached, online: navigator.onLine, signedOut });
    const fresh = banner === null ? '' : banner.toString();
    // Read out only when it says something else.
    if (place !== null && place.innerHTML !== fresh) place.innerHTML = fresh;
  };
  const send = async () => {
    if ((await store.nextAction()) !== null) {
      // Asked for once there is something to keep; a browser that would ask the person asks then.
      await navigator.storage?.persist?.().catch(() => false);
      const end = await flush(store);
      if (end !== null) reached = end !== 'no_answer';
      if (end !== null) signedOut = end === 'signed_out';
      if (end === 'no_answer') await askForSync();
      if (end === 'all') await refresh();
    }
    await tell();
  };
  const refresh = async () => {
    const [kept, changes] = await Promise.all([keptLately(store), store.countChanges()]);
    if (snapshotDue({ kept, changes, now: Date.now() }) && (await refreshSnapshot(store))) {
      reached = true;
      await store.forgetSent(new Date(Date.now() - keptSentMilliseconds).toISOString());
      void takePhotosAlong(store, (await keptLately(store))?.snapshot);
    }
    await tell();
  };
  store.onChange(() => void tell());
  window.addEventListener('online', () => void send());
  window.addEventListener('offline', () => void tell());
  document.addEventListener('visibilitychange', () => {
    if (!document.hidden) void refresh().then(send);
  });
  window.addEventListener('submit', ({ target, defaultPrevented }) => {
    // Before the page is left; the next one asks anew.
    if (!defaultPrevented && target instanceof HTMLFormElement && target.method === 'post')
      void store.noteChange();
  });
  hearNews(async () => {
    await store.noteChange();
    await refresh();
  });
  setInterval(() => void send(), retryMilliseconds);
  void refresh().then(send);
  return { send };
}

/** What others did is told in its place on the page, by a module of its own. */
function hearNews(told: () => Promise<void>): void {
  const place = document.querySelector('[data-news]');
  if (place === null) return;
  new MutationObserver((changes) => {
    if (changes.some(({ addedNodes }) => addedNodes.length > 0)) void told();
  }).observe(place, { childList: true });
}

/** Some browsers send for us once there is signal, even when the page is closed; others send when it is opened. */
async function askForSync(): Promise<void> {
  const registration = await navigator.serviceWorker?.getRegistration('/field');
  const sync: unknown = registration && 'sync' in registration ? registration.sync : undefined;
  if (!isSync(sync)) return;
  // Refused where the person does not want it: then it is sent when the app is opened.
  await sync.register('grainwright-send').catch(() => undefined);
}

function isSync(sync: unknown): sync is { register(tag: string): Promise<void> } {
  return typeof sync === 'object' && sync !== null && 'register' in sync;
}
