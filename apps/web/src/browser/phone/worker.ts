/**
 * The worker of field pages: with signal, pages come from the service; without, the phone's own app stands in for them.
 * It keeps the app's files by the digest of their list, and photos for their own person only; never an answer of the API.
 */
import { appCacheOf, cachesToDrop, type EarlierCache, earlierAppCaches } from './app-caches.ts';
import { flush } from './flush.ts';
import { ageForms, dropSameForms, handForm, listForms, readOwner, renewForm } from './owner.ts';
import { PhoneFullError } from './phone-database.ts';
import { photosOf } from './photos-along.ts';
import { keptLately, ordersIn } from './refresh-snapshot.ts';
import type { SendingEnd } from './sender.ts';
import { formPatience, isServiceAway } from './service-away.ts';
import { openPhoneStore, type PhoneStore } from './store.ts';

const shell = '/field/phone/app';
/** After so long without an answer the phone's own app stands in. */
const patienceMilliseconds = 8000;
/** While so long what waits is sent first, so that the service's page shows it. */
const sendingMilliseconds = 4000;

const files = filesOf(Reflect.get(self, 'grainwrightFiles'));
const appCache = appCacheOf(digestOfFiles());
/** Beside an earlier version's files: which windows were opened with them. */
const noteOfWindows = '/field/phone/windows';

self.addEventListener('install', (event) => {
  hold(
    event,
    caches
      .open(appCache)
      // A version that comes again is nobody's earlier one.
      .then(async (cache) => {
        await cache.delete(noteOfWindows);
        await cache.addAll([shell, ...files]);
      })
      .then(takeOver),
  );
});

self.addEventListener('activate', (event) => {
  hold(
    event,
    noteEarlier()
      .then(letGoOfEarlier)
      .then(() => Reflect.get(self, 'clients').claim()),
  );
});

self.addEventListener('sync', (event) => {
  hold(event, withStore((store) => flush(store, true)).then(triedAgainUnless));
});

self.addEventListener('fetch', (event) => {
  if (!isFetch(event)) return;
  const { request } = event;
  const url = new URL(request.url);
  if (url.origin !== self.location.origin) return;
  if (request.mode === 'navigate' && (url.pathname === '/field' || url.pathname.startsWith('/field/'))) {
    event.respondWith(request.method === 'POST' ? posted(request) : page(request, url));
    hold(event, letGoOfEarlier());
  } else if (isFile(url) || (request.method === 'GET' && url.pathname.startsWith('/assets/')))
    event.respondWith(fileOf(request, url));
  else if (request.method === 'GET' && photoPath.test(url.pathname)) event.respondWith(photo(request, url));
});

interface FetchEvent extends Event {
  readonly request: Request;
  respondWith(answer: Promise<Response>): void;
}

function isFetch(event: Event): event is FetchEvent {
  return 'respondWith' in event && 'request' in event;
}

function hold(event: Event, work: Promise<unknown>): void {
  if ('waitUntil' in event && typeof event.waitUntil === 'function') event.waitUntil(work);
}

function takeOver(): Promise<void> {
  return Reflect.get(self, 'skipWaiting').call(self);
}

/** A window that is open goes on with the files of its own version, also without signal: which these are is kept beside them. */
async function noteEarlier(): Promise<void> {
  const open = await openWindows();
  for (const name of earlierAppCaches(await caches.keys(), appCache)) {
    const cache = await caches.open(name);
    const windows = (await windowsOf(name)) ?? open;
    await cache.put(noteOfWindows, new Response(JSON.stringify(windows)));
  }
}

/** An earlier version's files go once no window of it is left. One without a note is of a version that only comes. */
async function letGoOfEarlier(): Promise<void> {
  const earlier: EarlierCache[] = [];
  for (const name of earlierAppCaches(await caches.keys(), appCache)) {
    const windows = await windowsOf(name);
    if (windows !== null) earlier.push({ name, windows });
  }
  if (earlier.length === 0) return;
  for (const name of cachesToDrop(earlier, await openWindows())) await caches.delete(name);
}

async function windowsOf(cacheName: string): Promise<readonly string[] | null> {
  const note: unknown = await (await caches.match(noteOfWindows, { cacheName }))?.json();
  return Array.isArray(note) ? note.filter((id) => typeof id === 'string') : null;
}

async function openWindows(): Promise<readonly string[]> {
  return idsOf(await Reflect.get(self, 'clients').matchAll({ type: 'window', includeUncontrolled: true }));
}

function idsOf(windows: unknown): readonly string[] {
  if (!Array.isArray(windows)) return [];
  return windows.flatMap((each: unknown) =>
    typeof each === 'object' && each !== null && 'id' in each ? [String(each.id)] : [],
  );
}

/** A browser tries again by itself only what failed: all came through, or nothing will until the person signs in. */
function triedAgainUnless(end: SendingEnd | null): void {
  if (end === 'no_answer' || end === 'later') throw new Error('not everything was sent yet');
}

async function page(request: Request, url: URL): Promise<Response> {
  const handed = url.searchParams.get('form');
  if (handed !== null && (await renewForm(handed, Date.now()))) return app();
  // What the office has is looked at as the office has it, whatever waits here.
  if (url.searchParams.get('see') === 'server') return fromService(request);
  if (url.pathname === '/field/phone/waiting' || (await isOnlyHere(url.pathname))) return app();
  return fromService(request);
}

/** The service's own page, or the app where none comes. What the service itself says stays, but that it is not there. */
async function fromService(request: Request): Promise<Response> {
  return (await answerOf(request, patienceMilliseconds)) ?? app();
}

/** Null where none came in time, or only that the service is not there: a proxy says so while it starts. */
async function answerOf(request: Request, patience: number | null): Promise<Response | null> {
  try {
    const reply = await fetch(request, patience === null ? {} : { signal: AbortSignal.timeout(patience) });
    return isServiceAway(reply) ? null : reply;
  } catch {
    return null;
  }
}

/** A form: sent as it is, or, where nothing comes through, taken up by the app, which keeps what it says. */
async function posted(request: Request): Promise<Response> {
  const copy = request.clone();
  const { pathname } = new URL(copy.url);
  const reply = await answerOf(request, formPatience(pathname));
  const owner = await readOwner().catch(() => null);
  if (reply === null) {
    const fields = [...(await copy.formData())];
    try {
      await handForm({ path: pathname, fields }, Date.now());
    } catch (error) {
      if (error instanceof PhoneFullError) return notKept(error.message);
      throw error;
    }
    return app();
  }
  // What was handed on from here before has come through with this one.
  if (reply.status < 400 && owner !== null && (await listForms(owner)).some(({ path }) => path === pathname))
    await dropSameForms({ path: pathname, fields: [...(await copy.formData())] }, owner);
  return reply;
}

/** There is no page of the app for it; the one that was filled in is still behind this one. */
function notKept(why: string): Response {
  const page = `<!doctype html><html lang="en-US"><meta charset="utf-8"><meta name="viewport" content="width=device-width">
    <title>Not kept</title><h1>Not kept</h1><p>${why}</p><p>Go back: the page has what you filled in.</p></html>`;
  return new Response(page, { status: 507, headers: { 'content-type': 'text/html; charset=utf-8' } });
}

async function app(): Promise<Response> {
  await ageForms(Date.now());
  const kept = await caches.match(shell, { cacheName: appCache });
  return kept ?? fetch(shell);
}

/** Whether the page is about a work order of which something has not come through; it is sent first where it can be. */
async function isOnlyHere(path: string): Promise<boolean> {
  const id = /^\/field\/work-orders\/([0-9a-f-]{36})(?:\/|$)/.exec(path)?.[1];
  if (id === undefined) return false;
  const open = async (store: PhoneStore) =>
    (await store.listActions()).some(
      ({ action, state }) => action.workOrderId === id && (state === 'waiting' || state === 'conflict'),
    );
  const isOpen = await withStore(async (store) => {
    if (!(await open(store))) return false;
    const pause = new Promise((resolve) => setTimeout(resolve, sendingMilliseconds));
    if (navigator.onLine) await Promise.race([flush(store, true), pause]);
    return (await open(store)) && (await isKnown(store, id));
  });
  return isOpen === true;
}

async function isKnown(store: PhoneStore, id: string): Promise<boolean> {
  const kept = await keptLately(store);
  if (kept === null) return false;
  if (ordersIn(kept.snapshot).includes(id)) return true;
  return (await store.listActions()).some(
    ({ action }) => action.kind === 'write_up' && action.workOrderId === id,
  );
}

async function withStore<T>(work: (store: PhoneStore) => Promise<T>): Promise<T | null> {
  const owner = await readOwner();
  if (owner === null) return null;
  const store = await openPhoneStore(owner);
  try {
    return await work(store);
  } finally {
    store.close();
  }
}

function isFile(url: URL): boolean {
  return files.includes(url.pathname) || files.includes(url.pathname + url.search);
}

/** A file's address holds the digest of its content: what is kept is never out of date, nor is it of an earlier version. */
async function fileOf(request: Request, url: URL): Promise<Response> {
  if (isFile(url)) {
    const own = await caches.match(request, { cacheName: appCache, ignoreSearch: true });
    return own ?? fetch(request);
  }
  for (const cacheName of earlierAppCaches(await caches.keys(), appCache)) {
    // A module is asked for with a number behind it each time it is shown; the stylesheet has its digest there.
    const ignoreSearch = url.searchParams.has('shown');
    const kept = await caches.match(request, { cacheName, ignoreSearch });
    if (kept !== undefined) return kept;
  }
  return fetch(request);
}

const photoPath = /^\/photos\/([0-9a-f-]{36})\/(thumb|view|original)$/;

/** A photo that was taken on this phone, else the service's, which is kept for where there is no signal. */
async function photo(request: Request, url: URL): Promise<Response> {
  const id = photoPath.exec(url.pathname)?.[1] ?? '';
  const own = await withStore(async (store) => ({ file: await store.readFile(id), cache: photosOf(store) }));
  if (own === null) return fetch(request);
  if (own.file !== null) return new Response(own.file, { headers: { 'content-type': own.file.type } });
  const cache = await caches.open(own.cache);
  try {
    const reply = await fetch(request);
    if (reply.status === 200 && url.pathname.endsWith('/view')) await cache.put(url.pathname, reply.clone());
    return reply;
  } catch {
    // Without signal the one size that was taken along stands in for the others.
    return (await cache.match(`/photos/${id}/view`)) ?? Response.error();
  }
}

function filesOf(listed: unknown): readonly string[] {
  return Array.isArray(listed) ? listed.filter((each) => typeof each === 'string') : [];
}

function digestOfFiles(): string {
  const digest: unknown = Reflect.get(self, 'grainwrightDigest');
  return typeof digest === 'string' ? digest : 'none';
}
