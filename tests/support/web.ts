import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll } from 'vitest';
import { type AppOptions, buildApp } from '../../apps/web/src/app.ts';
import { bundleAssets } from '../../apps/web/src/look/assets.ts';
import type { World } from './world.ts';

type App = Awaited<ReturnType<typeof buildApp>>;
type Reply = Awaited<ReturnType<App['inject']>>;

/** The web application over a world, asked without a socket; it closes by itself at the end of the test file. */
export interface Web {
  readonly app: App;
  /** Signs in by the API and answers the headers of the session. Throws when that fails. */
  signIn(email: string, password: string): Promise<{ authorization: string }>;
  /** Signs in as a browser does and answers its cookies. */
  signInByPage(email: string, password: string): Promise<Browsing>;
  /** Opens a browser where nobody is signed in. */
  visit(): Promise<Browsing>;
  /** What time it is for the service. */
  now(): Date;
  /** Starts to listen and answers the address, for tests with a browser. */
  listen(): Promise<string>;
}

/** A browser without JavaScript: cookies, pages, and forms with their token. */
export interface Browsing {
  readonly cookies: Readonly<Record<string, string>>;
  /** What its forms carry as `_csrf`. */
  readonly token: string;
  get(path: string): Promise<Reply>;
  /** Posts a form with the token of the page it would have come from. */
  post(path: string, fields: Readonly<Record<string, string>>): Promise<Reply>;
}

const cacheFolder = fileURLToPath(new URL('../../node_modules/.cache/grainwright-assets', import.meta.url));

export async function openWeb(
  world: World,
  options: Partial<Pick<AppOptions, 'onRoute' | 'logLevel' | 'requestMillisecondsMax'>> = {},
): Promise<Web> {
  const app = await buildApp({
    services: world.services,
    assets: await bundleAssets(cacheFolder),
    secure: false,
    trustProxy: [],
    temporaryFolder: join(world.objects.temporaryDirectory),
    photoBytesMax: 20_000_000,
    logLevel: 'silent',
    ...options,
  });
  afterAll(() => app.close());
  return {
    app,
    now: () => new Date(world.services.now()),
    signIn: async (email, password) => {
      const reply = await app.inject({
        method: 'POST',
        url: '/api/v1/sessions',
        payload: { email, password },
      });
      if (reply.statusCode !== 201) throw new Error(`sign-in answered ${reply.statusCode}: ${reply.body}`);
      return { authorization: `Bearer ${reply.json<{ token: string }>().token}` };
    },
    signInByPage: (email, password) => signInByPage(app, email, password),
    visit: () => visit(app),
    listen: () => app.listen({ host: '127.0.0.1', port: 0 }),
  };
}

async function visit(app: App): Promise<Browsing> {
  const page = await app.inject({ method: 'GET', url: '/sign-in' });
  const cookies = Object.fromEntries(page.cookies.map(({ name, value }) => [name, value]));
  return browsing(app, cookies, tokenIn(page.body));
}

async function signInByPage(app: App, email: string, password: string): Promise<Browsing> {
  const before = await visit(app);
  const reply = await before.post('/sign-in', { email, password });
  if (reply.statusCode !== 303) throw new Error(`signing in on the page answered ${reply.statusCode}`);
  const signedIn = Object.fromEntries(reply.cookies.map(({ name, value }) => [name, value]));
  return browsing(app, { ...before.cookies, ...signedIn }, before.token);
}

function browsing(app: App, cookies: Record<string, string>, token: string): Browsing {
  return {
    cookies,
    token,
    get: async (path) => app.inject({ method: 'GET', url: path, cookies }),
    post: (path, fields) => postForm(app, { cookies, token }, path, fields),
  };
}

async function postForm(
  app: App,
  { cookies, token }: { cookies: Record<string, string>; token: string },
  url: string,
  fields: Readonly<Record<string, string>>,
): Promise<Reply> {
  return app.inject({
    method: 'POST',
    url,
    cookies,
    headers: { 'content-type': 'application/x-www-form-urlencoded' },
    payload: new URLSearchParams({ _csrf: token, ...fields }).toString(),
  });
}

function tokenIn(page: string): string {
  const token = /name="_csrf" value="([^"]+)"/.exec(page)?.[1];
  if (token === undefined) throw new Error('the page has no form token');
  return token;
}
