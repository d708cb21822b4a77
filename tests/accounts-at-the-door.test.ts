import postgres from 'postgres';
import { beforeAll, expect, test, vi } from 'vitest';
import { multipart } from './support/multipart.ts';
import { openWeb, type Web } from './support/web.ts';
import { type Account, aBusiness, anAccount, type Business, openWorld, type World } from './support/world.ts';

let world: World;
let web: Web;
let business: Business;
let account: Account;
let owner: { authorization: string };

beforeAll(async () => {
  world = await openWorld();
  web = await openWeb(world);
  business = await aBusiness(world);
  account = await anAccount(business, { shortName: 'BG' });
  owner = await web.signIn(business.emailOf('owner'), business.password);
});

const get = (url: string, headers = {}, cookies = {}) =>
  web.app.inject({ method: 'GET', url, headers, cookies });
const post = (url: string, payload: object, headers = owner) =>
  web.app.inject({ method: 'POST', url: `/api/v1${url}`, headers, payload });

test('a form that comes as multipart is no way round the token', async () => {
  const { cookies } = await web.signInByPage(business.emailOf('owner'), business.password);
  for (const path of ['/sign-out', '/office/accounts/new', '/choose-business', '/password']) {
    const { headers, payload } = multipart({ name: 'From elsewhere' }, null);
    const reply = await web.app.inject({ method: 'POST', url: path, cookies, headers, payload });
    expect([path, reply.statusCode]).toEqual([path, 403]);
  }
  expect((await get('/office/accounts', {}, cookies)).statusCode, 'still signed in').toBe(200);
});

test('however the address is spelled, the API takes no cookie and pages take no token', async () => {
  const { cookies } = await web.signInByPage(business.emailOf('owner'), business.password);
  for (const url of ['/api/v1/me', '/%61pi/v1/me', '/a%70i/%761/me']) {
    const byCookie = await get(url, {}, cookies);
    expect([url, byCookie.statusCode, byCookie.headers['content-type']]).toEqual([
      url,
      401,
      'application/problem+json; charset=utf-8',
    ]);
    expect((await get(url, owner)).statusCode).toBe(200);
  }
  for (const url of ['/office/accounts', '/%6fffice/accounts']) {
    expect((await get(url, owner)).statusCode).toBe(303);
    expect((await get(url, {}, cookies)).statusCode).toBe(200);
  }
});

test('an address of nothing is not found, however it is spelled', async () => {
  for (const url of [
    '/nothing',
    '/%6eothing',
    '/nothing%00',
    '/api/nothing',
    '/%61pi/v1/nothing',
    '/API/v1/me',
  ])
    expect([url, (await get(url)).statusCode]).toEqual([url, 404]);
  expect((await get('/api/v1/nothing')).json()).toMatchObject({ code: 'not_found' });
  expect((await get('/%61pi/v1/nothing')).json()).toMatchObject({ code: 'not_found' });
  expect((await get('/%zz')).statusCode).toBe(400);
});

const nul = '\u0000';
const zero = '00000000-0000-0000-0000-000000000000';
const most = 'ffffffff-ffff-ffff-ffff-ffffffffffff';

test('the API refuses what can’t be printed wherever it stands, and names the place', async () => {
  const site = { id: world.newId(), name: `Back${nul} yard`, miles: '3' };
  expect((await post(`/accounts/${account.id}/sites`, site)).json()).toMatchObject({
    code: 'invalid_input',
    field: 'name',
  });
  const half = { ...site, name: 'Half \ud83d' };
  expect((await post(`/accounts/${account.id}/sites`, half)).statusCode).toBe(422);
  expect((await get('/api/v1/accounts?search=%00', owner)).json()).toMatchObject({
    status: 422,
    field: 'search',
  });
  expect((await get('/api/v1/work-orders?text=%07', owner)).statusCode).toBe(422);
  const signIn = await post('/sessions', { email: `a${nul}@example.com`, password: 'whatever it is' });
  expect(signIn.json()).toMatchObject({ status: 422, field: 'email' });
  const tier = await web.app.inject({
    ...{ method: 'PATCH', url: `/api/v1/accounts/${account.id}`, headers: owner },
    payload: { tier_code: `trade${nul}` },
  });
  expect(tier.json()).toMatchObject({ status: 422, field: 'tier_code' });
  const lines = { ...site, name: 'Front yard', address: '9 Mill Lane\n\tTessaly Bend' };
  expect((await post(`/accounts/${account.id}/sites`, lines)).statusCode, 'line breaks stay').toBe(201);
});

test('pages drop what can’t be printed from forms, and refuse it in an address', async () => {
  const browsing = await web.signInByPage(business.emailOf('office'), business.password);
  const visitor = await web.visit();
  const wrong = await visitor.post('/sign-in', { email: `a${nul}@example.com`, password: `b${nul}` });
  expect(wrong.statusCode).toBe(401);
  for (const path of ['/office/accounts?search=%00', '/office/work-orders?q=%00', '/field?day=%00'])
    expect([path, (await browsing.get(path)).statusCode]).toEqual([path, 422]);
  const pasted = await browsing.post(`/office/accounts/${account.id}/sites/new`, {
    ...{ id: world.newId(), name: `Side\u000b yard${nul}`, miles: '4', address: '1 Row\r\nTessaly Bend' },
  });
  expect(pasted.statusCode).toBe(303);
  const names = (await get(`/api/v1/accounts/${account.id}`, owner)).json<{ sites: object[] }>().sites;
  expect(names).toContainEqual(
    expect.objectContaining({ name: 'Side yard', address: '1 Row\nTessaly Bend' }),
  );
});

test('years outside of the trade’s and ids that stand for nothing are input to correct', async () => {
  const certificate = { id: world.newId(), kind: 'resale', number: '1', valid_to: null };
  for (const valid_from of ['0000-01-01', '0001-01-01', '1899-12-31', '2201-01-01'])
    expect(
      (await post(`/accounts/${account.id}/certificates`, { ...certificate, valid_from })).json(),
    ).toMatchObject({ code: 'invalid_date', field: 'valid_from' });
  const statements = `/api/v1/accounts/${account.id}/statements`;
  expect((await get(`${statements}/0000-01`, owner)).json()).toMatchObject({ code: 'invalid_date' });
  const browsing = await web.signInByPage(business.emailOf('owner'), business.password);
  expect((await browsing.get(`/office/accounts/${account.id}/statements/0000-01`)).statusCode).toBe(422);
  for (const id of [zero, most, most.toUpperCase()]) {
    expect((await get(`/api/v1/accounts/${id}`, owner)).json()).toMatchObject({ status: 422, field: 'id' });
    expect((await browsing.get(`/office/accounts/${id}`)).statusCode).toBe(404);
  }
});

test('what fails on our side is logged on stderr under the number that the person is told', async () => {
  const written: string[] = [];
  const spy = vi.spyOn(process.stderr, 'write').mockImplementation((chunk) => {
    written.push(String(chunk));
    return true;
  });
  const loud = await openWeb(
    {
      ...world,
      services: {
        ...world.services,
        now: () => {
          throw new Error('the clock stopped');
        },
      },
    },
    { logLevel: 'error' },
  );
  const reply = await loud.app.inject({
    ...{ method: 'POST', url: '/api/v1/sessions' },
    payload: { email: 'a@example.com', password: 'whatever it is' },
  });
  spy.mockRestore();
  expect(reply.statusCode).toBe(500);
  const { detail } = reply.json<{ detail: string }>();
  const number = /number of this request: ([0-9a-f-]{36})$/.exec(detail)?.[1] ?? 'none';
  expect(detail).not.toContain('clock');
  const lines = written.filter((line) => line.includes('the clock stopped'));
  expect(lines).toHaveLength(1);
  expect(lines[0]).toContain(number);
});

test('somebody of another business joins by API with the code that the office was told once', async () => {
  const elsewhere = await aBusiness(world);
  const theirs = await anAccount(elsewhere, { shortName: 'API' });
  const office = await web.signIn(elsewhere.emailOf('office'), elsewhere.password);
  const email = account.emailOf('payer');
  const contact = {
    person_id: world.newId(),
    ...{ name: 'Bettina Quarles', email, role: 'payer' },
    login: { user_id: world.newId(), membership_id: world.newId() },
  };
  const added = await post(`/accounts/${theirs.id}/contacts`, contact, office);
  const { login } = added.json<{ login: { kind: string; join_code: string } }>();
  expect([added.statusCode, login.kind]).toEqual([201, 'existing']);
  const before = await web.signIn(email, business.password);
  const code = login.join_code;
  expect((await post('/memberships', { code, new_password: 'short' }, before)).json()).toMatchObject({
    code: 'invalid_input',
    field: 'new_password',
  });
  const joined = await post('/memberships', { code, new_password: 'known to nobody else' }, before);
  expect(joined.statusCode).toBe(201);
  expect(joined.json<{ memberships: object[] }>().memberships).toHaveLength(2);
  expect((await get('/api/v1/me', before)).statusCode).toBe(401);
  const token = { authorization: `Bearer ${joined.json<{ token: string }>().token}` };
  expect((await get('/api/v1/me', token)).json()).toMatchObject({ role: 'payer', account_id: theirs.id });

  const changed = await post(
    '/me/password',
    { old_password: 'known to nobody else', new_password: business.password },
    token,
  );
  expect(changed.statusCode).toBe(200);
  expect((await get('/api/v1/me', token)).statusCode).toBe(401);
  await web.signIn(email, business.password);
});

test('the same on pages: the office hands over the code, the person joins and changes the password', async () => {
  const elsewhere = await aBusiness(world, { name: 'Marrowby Trim Mending' });
  const theirs = await anAccount(elsewhere, { shortName: 'PG' });
  const office = await web.signInByPage(elsewhere.emailOf('office'), elsewhere.password);
  const email = account.emailOf('viewer');
  const ids = { person_id: world.newId(), user_id: world.newId(), membership_id: world.newId() };
  const told = await office.post(`/office/accounts/${theirs.id}/contacts/new`, {
    ...{ ...ids, name: 'Casimir <Doane>', email, role: 'viewer', signs_in: 'yes' },
  });
  const code = /<strong class="code">([0-9A-Z-]{34})</.exec(told.body)?.[1] ?? '';
  expect(told.body).toContain('Hand this code to Casimir &lt;Doane&gt;');
  expect(told.headers['cache-control']).toBe('no-store');

  const person = await web.signInByPage(email, business.password);
  const home = await person.get('/account/work-orders');
  expect(home.body).toContain('href="/password"');
  expect((await person.get('/password')).body).toContain('href="/choose-business"');
  expect((await person.get('/choose-business')).body).toContain('action="/join-business"');
  const back = await person.post('/join-business', { code, new_password: 'short' });
  expect(back.statusCode).toBe(422);
  expect(back.body).toContain(`value="${code}"`);
  expect(back.body).toContain('id="field-new_password-error"');
  const joined = await person.post('/join-business', { code, new_password: 'known to nobody else' });
  expect([joined.statusCode, joined.headers.location]).toEqual([303, '/']);
  const session = joined.cookies.find(({ name }) => name === 'grainwright_session');
  expect(session?.maxAge, 'as long as a session may last').toBe(60 * 86_400);
  expect((await person.get('/choose-business')).statusCode, 'the session before has ended').toBe(303);

  const signedIn = await web.signInByPage(email, 'known to nobody else');
  expect((await signedIn.get('/choose-business')).body).toContain('Marrowby Trim Mending');
  const wrong = await signedIn.post('/password', { old_password: 'no', new_password: 'another long one' });
  expect(wrong.body).toContain('id="field-old_password-error"');
  const changed = await signedIn.post('/password', {
    ...{ old_password: 'known to nobody else', new_password: 'another long enough one' },
  });
  expect([changed.statusCode, changed.headers.location]).toEqual([303, '/password?changed=yes']);
  await web.signInByPage(email, 'another long enough one');
});

test('the owner ends a member of the staff by API', async () => {
  const own = await aBusiness(world);
  const [boss, technician] = [
    await web.signIn(own.emailOf('owner'), own.password),
    await web.signIn(own.emailOf('technician'), own.password),
  ];
  const path = `/staff/${own.technician.personId}/end`;
  expect((await post(path, {}, technician)).statusCode).toBe(403);
  expect((await post(path, {}, boss)).statusCode).toBe(204);
  expect((await get('/api/v1/me', technician)).statusCode).toBe(401);
  expect((await post(`/staff/${own.owner.personId}/end`, {}, boss)).statusCode).toBe(403);
});

test('the service is ready only with every migration that it was written for', async () => {
  expect((await get('/readyz')).json()).toEqual({
    ...{ status: 'ready', database: true, migrations: true, storage: true },
  });
  const older = await openWorld();
  const admin = postgres(older.adminUrl, { max: 1 });
  await admin`
    delete from migrations.grainwright_migrations
    where version = (select max(version) from migrations.grainwright_migrations)`;
  await admin.end();
  const behind = await (await openWeb(older)).app.inject({ method: 'GET', url: '/readyz' });
  expect([behind.statusCode, behind.json()]).toEqual([
    503,
    { status: 'not ready', database: true, migrations: false, storage: true },
  ]);
});
