/**
 * The worker of field pages: with signal, pages come from the service; without, the phone's own app stands in for them.
 * It keeps the app's files by the digest of their list, and photos for their own person only; never an answer of the API.
 */
import { flush } from './flush.ts';
import { dropForm, dropOldForms, handForm, readOwner } from './owner.ts';
import { photosOf } from './photos-along.ts';
import { keptLately, ordersIn } from './refresh-snapshot.ts';
import { openPhoneStore, type PhoneStore } from './store.ts';

const shell = '/field/phone/app';
/** After so long without an answer the phone's own app stands in. */
const patienceMilliseconds = 8000;
/** While so long what waits is sent first, so that the service's page shows it. */
const sendingMilliseconds = 4000;

const files = filesOf(Reflect.get(self, 'grainwrightFiles'));
const appCache = `grainwright-app-${digestOfFiles()}`;

self.addEventListener('install', (event) => {
  hold(
    event,
    caches
      .open(appCache)
      .then((cache) => cache.addAll([shell, ...files]))
      .then(takeOver),
  );
});

self.addEventListener('activate', (event) => {
  hold(
    event,
    dropOlder().then(() => Reflect.get(self, 'clients').claim()),
  );
});

self.addEventListener('sync', (event) => {
  hold(
    event,
    withStore((store) => flush(store, true)),
  );
});

self.addEventListener('fetch', (event) => {
  if (!isFetch(event)) return;
  const { request } = event;
  const url = new URL(request.url);
  if (url.origin !== self.location.origin) return;
  if (request.mode === 'navigate' && (url.pathname === '/field' || url.pathname.startsWith('/field/')))
    event.respondWith(request.method === 'POST' ? posted(request) : page(request, url));
  else if (files.includes(url.pathname) || files.includes(url.pathname + url.search))
    event.respondWith(fileOf(request));
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

async function dropOlder(): Promise<void> {
  for (const name of await caches.keys())
    if (name.startsWith('grainwright-app-') && name !== appCache) await caches.delete(name);
}

async function page(request: Request, url: URL): Promise<Response> {
  if (url.pathname === '/field/phone/waiting' || (await isOnlyHere(url.pathname))) return app();
  return fromService(request);
}

/** The service's own page, or the app where none comes. What the service itself says stays, but that it is not there. */
async function fromService(request: Request): Promise<Response> {
  try {
    const signal = AbortSignal.timeout(patienceMilliseconds);
    const reply = await fetch(request, { signal });
    return [502, 503, 504].includes(reply.status) ? await app() : reply;
  } catch {
    return app();
  }
}

/** A form: sent as it is, or, where nothing comes through, taken up by the app, which keeps what it says. */
async function posted(request: Request): Promise<Response> {
  const copy = request.clone();
  const { pathname } = new URL(copy.url);
  let reply: Response;
  try {
    reply = await fetch(request);
  } catch {
    const fields = [...(await copy.formData())];
    await handForm({ path: pathname, fields }, Date.now());
    return app();
  }
  // What was handed on from here before has come through with this one.
  if (reply.status < 400) await dropForm(pathname).catch(() => undefined);
  return reply;
}

async function app(): Promise<Response> {
  await dropOldForms(Date.now());
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

/** A file's name holds the digest of its content: what is kept is never out of date. */
async function fileOf(request: Request): Promise<Response> {
  const kept = await caches.match(request, { cacheName: appCache, ignoreSearch: true });
  return kept ?? fetch(request);
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
