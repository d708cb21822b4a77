/**
 * keepReady(store, place): what every field page does for the phone, with or without signal: it says what waits, sends
 * it when a page opens, when the signal comes back and while there is something to send, and takes the day along anew
 * where `snapshotDue` says so.
 */
import type { KeptAction } from './action.ts';
import { bannerOf } from './banner.ts';
import { finishedIn } from './finished-there.ts';
import { flush, hearEnds, isBeingSent } from './flush.ts';
import { awaitingDecision } from './needs.ts';
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
  let known: readonly KeptAction[] = [];
  let told = 0;
  const tell = async () => {
    told += 1;
    const turn = told;
    const [actions, sending, snapshot] = await Promise.all([
      store.listActions(),
      isBeingSent(store),
      store.readSnapshot(),
    ]);
    if (hasMoved(known, actions)) reached = true;
    known = actions;
    // A later one knows more, and may have come first.
    if (turn !== told) return;
    const held = awaitingDecision(actions, finishedIn(snapshot));
    const banner = bannerOf({ actions, held, reached, online: navigator.onLine, signedOut, sending });
    const fresh = banner === null ? '' : banner.toString();
    // Read out only when it says something else.
    if (place !== null && place.innerHTML !== fresh) place.innerHTML = fresh;
  };
  const send = async () => {
    if ((await store.nextAction()) !== null) {
      // Asked for once there is something to keep; a browser that would ask the person asks then.
      await navigator.storage?.persist?.().catch(() => false);
      const sending = flush(store);
      await tell();
      const end = await sending;
      if (end === 'no_answer' || end === 'later') await askForSync();
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
  hearEnds(store, (end) => {
    reached = end !== 'no_answer';
    signedOut = end === 'signed_out';
    void tell();
  });
  window.addEventListener('online', () => {
    // Whether it leads to the service is not known yet.
    reached = null;
    void tell().then(send);
  });
  window.addEventListener('offline', () => void tell());
  document.addEventListener('visibilitychange', () => {
    if (!document.hidden) void refresh().then(send);
  });
  hearChanges(store, refresh);
  setInterval(() => void send(), retryMilliseconds);
  void refresh().then(send);
  return { send };
}

/** Whether something has come to the service since: it was taken or refused there, or more of its file is. */
function hasMoved(before: readonly KeptAction[], now: readonly KeptAction[]): boolean {
  return now.some((kept) => {
    const was = before.find(({ action }) => action.id === kept.action.id);
    if (was === undefined || was.state !== 'waiting') return false;
    return kept.state === 'sent' || kept.state === 'conflict' || kept.sentBytes > was.sentBytes;
  });
}

/** What the person sends on this page and what others do makes the day taken along older than what is so. */
function hearChanges(store: PhoneStore, refresh: () => Promise<void>): void {
  window.addEventListener('submit', ({ target, defaultPrevented }) => {
    // Before the page is left; the next one asks anew.
    if (!defaultPrevented && target instanceof HTMLFormElement && target.method === 'post')
      void store.noteChange();
  });
  hearNews(async () => {
    await store.noteChange();
    await refresh();
  });
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
