import { afterEach, beforeAll, expect, test } from 'vitest';
import { linkMailedTo } from '../support/mailed-links.ts';
import { openWeb, type Web } from '../support/web.ts';
import { type Answer, differenceOf, leaksIn } from './answers.ts';
import { type Caller, call, linkBearer, nobody, type Route, signedIn } from './callers.ts';
import type { Named } from './holdings.ts';
import { probesOf, requestsOf, unknownMade, unknownNamed } from './probes.ts';
import { sampleApiRequests } from './sample-api-requests.ts';
import { samplePageRequests } from './sample-page-requests.ts';
import { sharedVin } from './told-work.ts';
import { type WorldOfTwo, worldOfTwo } from './world-of-two.ts';

/**
 * Calls every route of the running application as people who have no business there. Two answers are compared, one
 * for ids of somebody else's and one for ids that nobody uses: whoever can't tell them apart has learned nothing.
 */

const samples = { ...sampleApiRequests, ...samplePageRequests };

/** What anybody may open. Besides these, the stylesheet and the browser's modules. */
const publicRoutes = [
  'GET /',
  'GET /sign-in',
  'GET /verify',
  'POST /sign-in',
  'POST /sign-out',
  'GET /healthz',
  'GET /readyz',
  'GET /favicon.ico',
  // What makes the field pages an app on a phone: nothing of anybody is in it.
  'GET /field/worker.js',
  'GET /field/phone/app',
  'GET /field/phone/waiting',
  'GET /field/manifest.webmanifest',
  'GET /field/icon-192.png',
  'GET /field/icon-512.png',
  'GET /field/icon.svg',
  'GET /api/v1/openapi.json',
  'POST /api/v1/sessions',
];

/** What succeeds for ids of nothing, too: lists that are empty then, and pages that pass over such a part of their address. */
const answeredForAnything = [
  'GET /api/v1/accounts',
  'GET /api/v1/board',
  'GET /api/v1/credit-notes',
  'GET /api/v1/disputes',
  'GET /api/v1/invoices',
  'GET /api/v1/invoices/ready',
  'GET /api/v1/mails',
  'GET /api/v1/payments',
  'GET /api/v1/statement-runs',
  'GET /api/v1/reports/aging',
  'GET /api/v1/vehicles',
  'GET /api/v1/work-orders',
  'GET /office/accounts',
  'GET /office/aging',
  'GET /office/board',
  'GET /office/disputes',
  'GET /office/invoices/ready',
  'GET /office/mailbox',
  'GET /office/payments',
  'GET /office/statements',
  'GET /office/vehicles',
  'GET /office/work-orders',
  'GET /account/disputes',
  'GET /account/vehicles',
  'GET /account/work-orders',
  'GET /field/work-orders/:id/photos',
];

/** What a contact sends, besides all that begins with /account or /api/v1/account/; the rest is the owner's of the business. */
const ofContacts = [
  'GET /api/v1/to-approve',
  'POST /api/v1/work-orders/:id/decision-preview',
  'POST /api/v1/work-orders/:id/decisions',
  'POST /api/v1/work-orders/:id/numbers',
  'POST /api/v1/work-orders/:id/passed-on-answers',
  'POST /api/v1/approvals',
  'POST /api/v1/sessions',
  'POST /choose-business',
  'POST /sign-out',
];

/**
 * Passing on is for whoever may not approve as much: tests/passed-on-answers.test.ts sends right ones. A second new key
 * waits until the background has introduced the first: tests/seals-web.test.ts sends the right one.
 */
const refusedByRule = [
  'POST /office/seals/keys',
  'POST /api/v1/work-orders/:id/passed-on-answers',
  'POST /account/work-orders/:id/passed-on',
];

/** What would end the session that the samples after it need: their samples are refused. tests/accounts-at-the-door.test.ts sends right ones. */
const refusedInSample = [
  'POST /api/v1/memberships',
  'POST /api/v1/me/password',
  'POST /join-business',
  'POST /password',
];

/** What names the price book as it stands: the samples before it have changed that. tests/price-drafts.test.ts sends right ones. */
const refusedAsTheBookMoved = [
  'POST /api/v1/price-book/drafts/:id/price-book-changes',
  'POST /api/v1/price-book/drafts/:id/publish',
  'POST /office/price-book/drafts/:id/go-on',
  'POST /office/price-book/drafts/:id/publish',
];

let two: WorldOfTwo;
let web: Web;
let rowsBefore: Awaited<ReturnType<WorldOfTwo['rows']>>;
const routes: Route[] = [];

beforeAll(async () => {
  two = await worldOfTwo();
  web = await openWeb(two.world, {
    onRoute: ({ method, url }) => routes.push(...[method].flat().map((each) => ({ method: each, url }))),
  });
  rowsBefore = await two.rows();
}, 600_000);

afterEach(async () => {
  expect(await two.rows(), 'the rows of the business that was called in vain').toEqual(rowsBefore);
});

test('every route is a plain GET or has a sample request, and every sample request has a route', () => {
  const names = routes.map(nameOf);
  expect(names.length).toBeGreaterThan(100);
  const without = routes.filter((route) => !isPlainGet(route) && samples[nameOf(route)] === undefined);
  expect(without.map(nameOf)).toEqual([]);
  expect(Object.keys(samples).filter((name) => !names.includes(name))).toEqual([]);
});

test('nobody gets anywhere without signing in, but where everybody may', async () => {
  const visitor = await nobody(web);
  const open: string[] = [];
  for (const route of routes.filter((each) => !isPublic(each)))
    for (const request of requestsOf(samples[nameOf(route)], two.victim.holdings, visitor.email)) {
      const answer = await call(web, visitor, route, request);
      if (!asksToSignIn(route, answer)) open.push(`${route.method} ${route.url}: ${answer.status}`);
    }
  expect(open).toEqual([]);
});

const intruders = {
  'the owner of another business': async (): Promise<Intruder> => {
    const { business, holdings } = two.otherBusiness;
    const caller = await signedIn(web, business.emailOf('owner'), business.password);
    return { caller, own: holdings.named, secrets: two.businessSecrets };
  },
  'a contact of another business': async (): Promise<Intruder> => {
    const { business, holdings, email } = two.otherBusiness;
    const caller = await signedIn(web, email, business.password);
    return { caller, own: holdings.named, secrets: two.businessSecrets };
  },
  'a contact of another account': async (): Promise<Intruder> => {
    const { business, holdings, email } = two.sameBusiness;
    const caller = await signedIn(web, email, business.password);
    return { caller, own: holdings.named, secrets: two.accountSecrets };
  },
  'a contact of another account by their mailed link': async (): Promise<Intruder> => {
    const { business, account, holdings } = two.sameBusiness;
    const path = await linkMailedTo(business, account.emailOf('approver'));
    return { caller: await linkBearer(web, path), own: holdings.named, secrets: two.accountSecrets };
  },
  'a contact of another business by their mailed link': async (): Promise<Intruder> => {
    const { business, account, holdings } = two.otherBusiness;
    const path = await linkMailedTo(business, account.emailOf('approver'));
    return { caller: await linkBearer(web, path), own: holdings.named, secrets: two.businessSecrets };
  },
  'somebody who is not signed in': async (): Promise<Intruder> => ({
    caller: await nobody(web),
    own: unknownNamed(),
    secrets: two.businessSecrets,
  }),
};

/** HEAD is answered by what answers GET, so one intruder is enough for it. */
const askedForHeadsToo: keyof typeof intruders = 'the owner of another business';

for (const [who, enter] of Object.entries(intruders)) {
  test(`no route tells ${who} that there is anything`, { timeout: 600_000 }, async () => {
    const intruder = await enter();
    const told: string[] = [];
    const asked = routes.filter(({ method }) => method !== 'HEAD' || who === askedForHeadsToo);
    for (const route of asked) told.push(...(await whatIsTold(route, intruder)));
    expect(told).toEqual([]);
  });

  test(`a vehicle that both have had tells ${who} only of their own work`, async () => {
    const { caller, own, secrets } = await enter();
    for (const [name, query] of [
      ['GET /api/v1/work-orders', { text: sharedVin }],
      ['GET /office/work-orders', { q: sharedVin }],
      ['GET /account/work-orders', { q: sharedVin }],
      ['GET /api/v1/vehicles', { text: sharedVin }],
      ['GET /office/vehicles', { q: sharedVin }],
      ['GET /account/vehicles', { q: sharedVin }],
    ] as const) {
      const answer = await call(web, caller, routeOf(name), { query });
      expect(answer.body.includes(own.paid)).toBe(answer.status === 200);
      expect(leaksIn({ answer, sent: [] }, secrets)).toEqual([]);
    }
  });
}

for (const [face, sent] of Object.entries({ API: sampleApiRequests, pages: samplePageRequests }))
  test(`each sample request of the ${face} does its work for whom it belongs to, and with ids that another business uses`, {
    timeout: 600_000,
  }, async () => {
    const { spare, made } =
      face === 'API'
        ? { spare: two.spares[0], made: two.victim.holdings.made }
        : { spare: two.spares[1], made: unknownMade() };
    const { business, holdings, email } = spare;
    const owner = await signedIn(web, business.emailOf('owner'), business.password);
    const contact = await signedIn(web, email, business.password);
    const lent = Object.values(two.victim.holdings.made);
    const secrets = two.businessSecrets.filter((secret) => !lent.includes(secret));
    const wrong: string[] = [];
    for (const name of Object.keys(sent)) {
      const route = routeOf(name);
      const caller = isOfContacts(route) ? contact : owner;
      for (const request of requestsOf(samples[name], { ...holdings, made }, caller.email)) {
        const answer = await call(web, caller, route, request);
        if (
          answer.status >= 400 &&
          ![...refusedInSample, ...refusedByRule, ...refusedAsTheBookMoved].includes(name) &&
          !isByLink(route)
        )
          wrong.push(`${name}: ${answer.status} ${wordsOf(answer)}`);
        wrong.push(...leaksIn({ answer, sent: [] }, secrets).map((leak) => `${name} tells ${leak}`));
      }
    }
    expect(wrong).toEqual([]);
  });

test('within a business an id counts once: another account’s is refused without a word of what it stands for', async () => {
  const { business, holdings, email } = two.sameBusiness;
  const contact = await signedIn(web, email, business.password);
  const route = routeOf('POST /api/v1/work-orders/:id/decisions');
  const made = two.victim.holdings.made;
  for (const request of requestsOf(samples[nameOf(route)], { ...holdings, made }, email)) {
    const answer = await call(web, contact, route, request);
    expect([answer.status, JSON.parse(answer.body)]).toMatchObject([409, { code: 'id_reused', field: 'id' }]);
    expect(leaksIn({ answer, sent: [made.decision] }, two.accountSecrets)).toEqual([]);
  }
});

interface Intruder {
  readonly caller: Caller;
  /** What they may name. */
  readonly own: Named;
  /** What no answer to them may contain. */
  readonly secrets: readonly string[];
}

/** What somebody learns from a route about things that are not theirs. */
async function whatIsTold(route: Route, { caller, own, secrets }: Intruder): Promise<readonly string[]> {
  const where = `${route.method} ${route.url}`;
  const told: string[] = [];
  if (isPlainGet(route)) {
    const answer = await call(web, caller, route, {});
    told.push(...leaksIn({ answer, sent: [] }, secrets).map((leak) => `${where} tells ${leak}`));
  }
  const build = samples[nameOf(route)];
  if (build === undefined) return told;
  const asking = { own, email: caller.email };
  for (const { foreign, real, unknown } of probesOf(build, two.victim.holdings, asking)) {
    const asked = { answer: await call(web, caller, route, real.request), sent: real.values };
    const ofNothing = { answer: await call(web, caller, route, unknown.request), sent: unknown.values };
    const difference = differenceOf(asked, ofNothing);
    if (difference !== null) told.push(`${where} (${foreign}): ${difference}`);
    if (isGranted(route, asked.answer)) told.push(`${where} (${foreign}): ${asked.answer.status}`);
    told.push(...leaksIn(asked, secrets).map((leak) => `${where} (${foreign}) tells ${leak}`));
  }
  return told;
}

function isGranted(route: Route, answer: Answer): boolean {
  if (answer.status >= 400 || asksToSignIn(route, answer)) return false;
  return !answeredForAnything.includes(nameOf(route));
}

function asksToSignIn({ method, url }: Route, { status, headers, body }: Answer): boolean {
  if (url.startsWith('/api/'))
    return status === 401 && (method === 'HEAD' || body.includes('"not_signed_in"'));
  if (method !== 'GET') return status === 401;
  return status === 303 && (headers.location ?? '').startsWith('/sign-in?next=');
}

/** By which a route has its sample request. HEAD is answered as GET is, without the body. */
function nameOf({ method, url }: Route): string {
  return `${method === 'HEAD' ? 'GET' : method} ${url}`;
}

function routeOf(name: string): Route {
  const [method = '', url = ''] = name.split(' ');
  return { method, url };
}

function isPlainGet(route: Route): boolean {
  return nameOf(route).startsWith('GET ') && !/[:*]/.test(route.url);
}

function isPublic(route: Route): boolean {
  return publicRoutes.includes(nameOf(route)) || /^\/(assets|link)\//.test(route.url);
}

/** What needs the secret of a link: tests/approval-links.test.ts and tests/owner-by-link.test.ts send right ones. */
function isByLink(route: Route): boolean {
  return /^(\/api\/v1\/by-link|\/link)\//.test(route.url);
}

function isOfContacts(route: Route): boolean {
  return /^(\/account(\/|$)|\/api\/v1\/account\/)/.test(route.url) || ofContacts.includes(nameOf(route));
}

/** Why a request was refused. */
function wordsOf({ body }: Answer): string {
  return body
    .replaceAll(/<head>.*?<\/head>|<[^>]*>/gs, ' ')
    .replaceAll(/\s+/g, ' ')
    .slice(0, 600);
}
