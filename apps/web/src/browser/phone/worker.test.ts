import 'fake-indexeddb/auto';
import { afterAll, afterEach, beforeAll, beforeEach, expect, test, vi } from 'vitest';
import { keepOwner, listForms, readForm, throwFormAway } from './owner.ts';
import { openPhoneStore } from './store.ts';

/** The worker in a browser's place: its caches, its windows and what the service answers are here in the test. */

const owner = { tenantId: 'of-worker', personId: 'person' };
const origin = 'https://shop.test';
const order = '01990000-0000-7000-8000-000000000001';
const handlers = new Map<string, (event: Event) => void>();
const caches = new Map<string, Map<string, Response>>();
let windows: readonly { readonly id: string }[] = [];
let service: (request: Request, init?: RequestInit) => Promise<Response>;

function pathOf(request: RequestInfo): string {
  const { pathname, search } = new URL(typeof request === 'string' ? request : request.url, origin);
  return pathname + search;
}

function cacheNamed(name: string) {
  const kept = caches.get(name) ?? new Map<string, Response>();
  caches.set(name, kept);
  return {
    addAll: async (paths: readonly string[]) => {
      for (const path of paths) kept.set(path, new Response(`${path} of ${name}`));
    },
    put: async (request: RequestInfo, reply: Response) => void kept.set(pathOf(request), reply),
    delete: async (request: RequestInfo) => kept.delete(pathOf(request)),
  };
}

beforeAll(async () => {
  vi.stubGlobal('self', {
    location: { origin },
    clients: { matchAll: async () => windows, claim: async () => undefined },
    skipWaiting: async () => undefined,
    addEventListener: (name: string, handler: (event: Event) => void) => handlers.set(name, handler),
    grainwrightFiles: ['/assets/shell-new.js', '/assets/grainwright.css?v=new'],
    grainwrightDigest: 'new',
  });
  vi.stubGlobal('navigator', {
    onLine: true,
    locks: { request: (_name: string, _options: object, work: (lock: object) => unknown) => work({}) },
  });
  vi.stubGlobal('caches', {
    keys: async () => [...caches.keys()],
    open: async (name: string) => cacheNamed(name),
    delete: async (name: string) => caches.delete(name),
    match: async (
      request: RequestInfo,
      { cacheName, ignoreSearch = false }: { readonly cacheName: string; readonly ignoreSearch?: boolean },
    ) => {
      const path = pathOf(request);
      for (const [kept, reply] of caches.get(cacheName) ?? [])
        if (kept === path || (ignoreSearch && kept.split('?')[0] === path.split('?')[0]))
          return reply.clone();
      return undefined;
    },
  });
  vi.stubGlobal('fetch', (request: Request, init?: RequestInit) => service(request, init));
  await import('./worker.ts');
});

beforeEach(async () => {
  caches.clear();
  windows = [];
  await keepOwner(owner);
  await happen('install');
  await happen('activate');
});

afterAll(() => vi.unstubAllGlobals());

afterEach(async () => {
  vi.restoreAllMocks();
  for (const { key } of await listForms(owner)) await throwFormAway(key);
});

/** An event of the worker's life, to the end of what it waits for. */
async function happen(name: string): Promise<void> {
  let held: Promise<unknown> = Promise.resolve();
  const event = {
    waitUntil: (work: Promise<unknown>) => {
      held = work;
    },
  };
  handlers.get(name)?.(event as unknown as Event);
  await held;
}

/** What the worker answers; null where it leaves the request to the browser. */
async function asked(path: string, form?: Readonly<Record<string, string>>): Promise<string | null> {
  const body = form && new URLSearchParams(form);
  const request = new Request(origin + path, body === undefined ? {} : { method: 'POST', body });
  const isPage = !path.startsWith('/assets/');
  if (isPage) Object.defineProperty(request, 'mode', { value: 'navigate' });
  let answer: Promise<Response> | null = null;
  let held: Promise<unknown> = Promise.resolve();
  const event = {
    request,
    respondWith: (reply: Promise<Response>) => {
      answer = reply;
    },
    waitUntil: (work: Promise<unknown>) => {
      held = work;
    },
  };
  handlers.get('fetch')?.(event as unknown as Event);
  await held;
  return answer === null ? null : (await (answer as Promise<Response>)).text();
}

const app = '/field/phone/app of grainwright-app-new';
const start = `/field/work-orders/${order}/start`;
const typed = { id: '01990000-0000-7000-8000-0000000000aa', airbag_lamp: 'on' };

test.each([502, 503, 504])(
  'a form that a proxy answers with %i is taken up by the app as it was sent',
  async (status) => {
    service = async () => new Response('the proxy’s own page', { status });
    expect(await asked(start, typed)).toBe(app);
    expect(await readForm(start, owner)).toEqual(
      expect.objectContaining({ path: start, fields: Object.entries(typed) }),
    );
  },
);

test('a form without an answer is taken up after a while, where the server does it once', async () => {
  const bounds: number[] = [];
  vi.spyOn(AbortSignal, 'timeout').mockImplementation((milliseconds) => {
    bounds.push(milliseconds);
    return AbortSignal.abort();
  });
  service = async (_request, init) => {
    init?.signal?.throwIfAborted();
    return new Response('the service’s page');
  };
  expect(await asked(start, typed)).toBe(app);
  expect(bounds).toEqual([30_000]);
  expect(await listForms(owner)).toHaveLength(1);
  expect(await asked('/field/stops/order', { stop: '1' })).toBe('the service’s page');
  expect(bounds).toEqual([30_000]);
});

test('what the service itself says to a form stands; the same handed on before goes, another one stays', async () => {
  service = async () => new Response('', { status: 503 });
  await asked(start, typed);
  await asked(start, { ...typed, id: '01990000-0000-7000-8000-0000000000bb' });
  service = async () => new Response('look at it again', { status: 422 });
  expect(await asked(start, typed)).toBe('look at it again');
  expect(await listForms(owner)).toHaveLength(2);
  service = async () => new Response('started');
  expect(await asked(start, typed)).toBe('started');
  const [left, ...more] = await listForms(owner);
  expect(more).toEqual([]);
  expect(Object.fromEntries(left?.fields ?? [])).toMatchObject({
    id: '01990000-0000-7000-8000-0000000000bb',
  });
});

test('a form that the person asks for is taken up again, however old', async () => {
  service = async () => new Response('', { status: 503 });
  await asked(start, typed);
  const [left] = await listForms(owner);
  service = async () => new Response('the service’s page');
  expect(await asked(start)).toBe('the service’s page');
  expect(await asked(`${start}?form=${encodeURIComponent(left?.key ?? '')}`)).toBe(app);
  expect(await asked(`${start}?form=another`)).toBe('the service’s page');
});

test('a browser that sends for us tries again until all has come through', async () => {
  const store = await openPhoneStore(owner);
  const frame = { id: order, workOrderId: order, madeAt: '2026-08-05T09:00:00-05:00' };
  await store.keepAction({ ...frame, kind: 'write_up', body: { id: order } });
  service = async () => {
    throw new TypeError('Failed to fetch');
  };
  await expect(happen('sync')).rejects.toThrow('not everything was sent');
  service = async () => Response.json({ code: 'not_signed_in', detail: 'Sign in first.' }, { status: 401 });
  await expect(happen('sync')).resolves.toBeUndefined();
  await keepOwner(owner);
  service = async () => Response.json({ id: order }, { status: 201 });
  await expect(happen('sync')).resolves.toBeUndefined();
  expect(await store.listActions()).toMatchObject([{ state: 'sent' }]);
  // The day is taken along anew by whichever page comes next.
  expect(await store.countChanges()).toBe(1);
  store.close();
});

test('a window that was open when a newer version came goes on with its own files, until it is gone', async () => {
  await cacheNamed('grainwright-app-old').addAll(['/assets/camera-old.js', '/assets/grainwright.css?v=old']);
  windows = [{ id: 'open' }];
  service = async () => new Response('no such file', { status: 404 });
  await happen('activate');
  expect(await asked('/assets/camera-old.js?shown=2')).toBe('/assets/camera-old.js of grainwright-app-old');
  expect(await asked('/assets/grainwright.css?v=old')).toBe(
    '/assets/grainwright.css?v=old of grainwright-app-old',
  );
  expect(await asked('/assets/grainwright.css?v=new')).toBe(
    '/assets/grainwright.css?v=new of grainwright-app-new',
  );
  expect(await asked('/assets/shell-new.js?shown=1')).toBe('/assets/shell-new.js of grainwright-app-new');
  expect(await asked('/assets/unknown.js')).toBe('no such file');
  // Of a version that is being put in just now: not an earlier one.
  await cacheNamed('grainwright-app-newer').addAll(['/assets/camera-newer.js']);
  windows = [{ id: 'opened later' }];
  await asked('/field');
  expect([...caches.keys()]).toEqual(['grainwright-app-new', 'grainwright-app-newer']);
});
