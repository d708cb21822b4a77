import { beforeAll, expect, test } from 'vitest';
import { type Browsing, openWeb, type Web } from './support/web.ts';
import { type Account, aBusiness, anAccount, type Business, openWorld } from './support/world.ts';

let web: Web;
let business: Business;
let glass: Account;
let technician: Browsing;
let named: string;

beforeAll(async () => {
  const world = await openWorld();
  business = await aBusiness(world);
  glass = await anAccount(business);
  web = await openWeb(world);
  technician = await web.signInByPage(business.emailOf('technician'), business.password);
  named = `${business.tenantId}.${business.technician.personId}`;
});

const snapshot = (cookies: Browsing['cookies'], headers: Readonly<Record<string, string>> = {}) =>
  web.app.inject({ method: 'GET', url: '/api/v1/phone/snapshot', cookies, headers });

test('a page asks the API by its cookie, and only in the name of whoever is signed in', async () => {
  const { cookies } = technician;
  expect((await snapshot(cookies, { 'x-grainwright-person': named })).statusCode).toBe(200);
  expect((await snapshot(cookies)).statusCode).toBe(401);
  const another = `${business.tenantId}.${business.office.personId}`;
  expect((await snapshot(cookies, { 'x-grainwright-person': another })).statusCode).toBe(401);
  // What names nobody that a cookie or a token stands for is nobody.
  expect((await snapshot({}, { 'x-grainwright-person': named })).statusCode).toBe(401);
  const bad = { authorization: 'Bearer none', 'x-grainwright-person': named };
  expect((await snapshot(cookies, bad)).statusCode).toBe(401);
});

test('another site can’t have a browser add the header: no answer allows it to ask with it', async () => {
  const asked = await web.app.inject({
    method: 'OPTIONS',
    url: '/api/v1/phone/snapshot',
    headers: {
      origin: 'https://elsewhere.example',
      'access-control-request-headers': 'x-grainwright-person',
    },
  });
  expect(asked.headers['access-control-allow-origin']).toBeUndefined();
  expect(asked.headers['access-control-allow-headers']).toBeUndefined();
});

test('a phone takes along where vehicles can be written up, by which rules, and no price that was agreed', async () => {
  const reply = await snapshot(technician.cookies, { 'x-grainwright-person': named });
  const taken = reply.json();
  expect(taken.person).toMatchObject({ id: business.technician.personId, role: 'technician' });
  expect(taken.places).toMatchObject([
    { accountId: glass.id, rules: { acceptanceRule: 'vehicle_owner', photoRule: 'trade', standing: null } },
  ]);
  expect(taken.repairs.length).toBeGreaterThan(5);
  expect(taken.workOrders).toEqual([]);
  const contact = await web.signIn(glass.emailOf('approver'), business.password);
  const asContact = await web.app.inject({ method: 'GET', url: '/api/v1/phone/snapshot', headers: contact });
  expect(asContact.statusCode).toBe(403);
});

test('the field pages are an app: a worker for all of them, a manifest, its icons, and nothing of anybody in it', async () => {
  const page = await technician.get('/field');
  expect(page.body).toContain('<link rel="manifest" href="/field/manifest.webmanifest">');
  expect(page.body).toContain(`data-phone="${named}"`);
  const worker = await web.app.inject({ method: 'GET', url: '/field/worker.js' });
  expect(worker.headers).toMatchObject({ 'service-worker-allowed': '/field', 'cache-control': 'no-cache' });
  const manifest = await web.app.inject({ method: 'GET', url: '/field/manifest.webmanifest' });
  expect(manifest.headers['content-type']).toContain('application/manifest+json');
  const { icons, start_url, display } = manifest.json();
  expect({ start_url, display }).toEqual({ start_url: '/field', display: 'standalone' });
  for (const { src, type } of icons) {
    const icon = await web.app.inject({ method: 'GET', url: src });
    expect([icon.statusCode, icon.headers['content-type']]).toEqual([200, type]);
  }
  const app = await web.app.inject({ method: 'GET', url: '/field/phone/app' });
  expect(app.body).not.toContain(business.name);
});
