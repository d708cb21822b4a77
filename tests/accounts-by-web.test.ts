import { beforeAll, expect, test } from 'vitest';
import { openWeb, type Web } from './support/web.ts';
import { type Account, aBusiness, anAccount, type Business, openWorld, type World } from './support/world.ts';

let world: World;
let web: Web;
let business: Business;
let account: Account;

beforeAll(async () => {
  world = await openWorld();
  web = await openWeb(world);
  business = await aBusiness(world);
  account = await anAccount(business, { shortName: 'BG' });
});

const api = (
  headers: { authorization: string },
  method: 'GET' | 'POST' | 'PATCH',
  path: string,
  payload?: object,
) =>
  web.app.inject({ method, url: `/api/v1${path}`, headers, ...(payload === undefined ? {} : { payload }) });

test('the API opens an account, changes it, and adds a site, a contact who signs in, and a certificate', async () => {
  const office = await web.signIn(business.emailOf('office'), business.password);
  const id = world.services.newId();
  const body = {
    id,
    short_name: 'pl',
    name: 'Penny Lantern Autos',
    kind: 'used_car_lot',
    tier_code: 'lot',
    tax_area_code: 'A',
    terms_days: 10,
    statement_kind: 'balance_forward',
    invoice_rule: 'per_visit',
    acceptance_rule: 'none',
    photo_rule: 'lot',
  };
  const opened = await api(office, 'POST', '/accounts', body);
  expect(opened.statusCode).toBe(201);
  expect(opened.json()).toMatchObject({
    id,
    short_name: 'PL',
    opened_on: '2026-08-05',
    requires_po: false,
    contacts: [],
  });
  expect((await api(office, 'POST', '/accounts', body)).json()).toEqual(opened.json());

  expect(
    (await api(office, 'PATCH', `/accounts/${id}`, { terms_days: 15, own_number_kind: 'stock' })).json(),
  ).toMatchObject({
    terms_days: 15,
    own_number_kind: 'stock',
    name: 'Penny Lantern Autos',
  });
  const site = { id: world.services.newId(), name: 'Row 1', miles: '8.04' };
  expect((await api(office, 'POST', `/accounts/${id}/sites`, site)).json()).toMatchObject({
    code: 'invalid_input',
    field: 'miles',
  });
  expect((await api(office, 'POST', `/accounts/${id}/sites`, { ...site, miles: '8' })).statusCode).toBe(201);
  const contact = {
    person_id: world.services.newId(),
    name: 'Ravi Stellmacher',
    email: 'ravi@example.com',
    role: 'approver',
    limit: '250.00',
    login: {
      user_id: world.services.newId(),
      membership_id: world.services.newId(),
      password: business.password,
    },
  };
  expect((await api(office, 'POST', `/accounts/${id}/contacts`, contact)).json()).toEqual({
    person_id: contact.person_id,
    login: { kind: 'new', join_code: null },
  });
  const certificate = {
    id: world.services.newId(),
    kind: 'resale',
    number: 'R-77',
    valid_from: '2026-01-01',
    valid_to: '2027-06-30',
  };
  expect((await api(office, 'POST', `/accounts/${id}/certificates`, certificate)).statusCode).toBe(201);
  expect((await api(office, 'GET', `/accounts/${id}`)).json()).toMatchObject({
    sites: [{ name: 'Row 1', miles: '8' }],
    contacts: [{ name: 'Ravi Stellmacher', limit: '250.00', ended_on: null }],
    certificates: [{ number: 'R-77', standing: 'valid' }],
  });

  const ravi = await web.signIn('ravi@example.com', business.password);
  expect((await api(ravi, 'GET', '/me')).json()).toMatchObject({ role: 'approver', account_id: id });
  expect((await api(office, 'POST', `/accounts/${id}/contacts/${contact.person_id}/end`)).statusCode).toBe(
    204,
  );
  expect((await api(ravi, 'GET', '/me')).statusCode).toBe(401);
});

test('the API gives the price book to staff and to no contact', async () => {
  const book = await api(
    await web.signIn(business.emailOf('technician'), business.password),
    'GET',
    '/price-book',
  );
  expect(book.statusCode).toBe(200);
  const rates = book.json<{ rates: { code: string }[] }>().rates;
  // Invented figures; common practice of the trade, no published source.
  expect(rates.find((rate) => rate.code === 'PU-L')).toMatchObject({
    list: '425.00',
    over_inches: '3',
    to_inches: '6',
    tier_prices: { retail: '425.00', trade: '361.25', dealer: '318.75', lot: '233.75' },
  });
  const contact = await web.signIn(account.emailOf('approver'), business.password);
  expect((await api(contact, 'GET', '/price-book')).statusCode).toBe(403);
  expect((await api(contact, 'GET', `/accounts/${account.id}`)).statusCode).toBe(403);
  expect((await api(contact, 'GET', '/staff')).statusCode).toBe(403);
});

test('a form that comes back keeps what was typed and says what is wrong beside the field', async () => {
  const browsing = await web.signInByPage(business.emailOf('office'), business.password);
  const form = (await browsing.get('/office/accounts/new')).body;
  const id = /name="id" value="([^"]+)"/.exec(form)?.[1] ?? '';
  const typed = {
    id,
    name: 'Umbral <Film> Works',
    short_name: 'BG',
    kind: 'tint_shop',
    tier_code: 'trade',
    tax_area_code: 'B',
    terms_days: '15',
    statement_kind: 'open_item',
    invoice_rule: 'per_visit',
    acceptance_rule: 'vehicle_owner',
    photo_rule: 'trade',
  };
  const back = await browsing.post('/office/accounts/new', typed);
  expect(back.statusCode).toBe(409);
  expect(back.body).toContain('value="Umbral &lt;Film&gt; Works"');
  expect(back.body).toContain(`name="id" value="${id}"`);
  expect(back.body).toMatch(/id="field-short_name-error"[^>]*>Another account has the short name BG/);

  const sent = await browsing.post('/office/accounts/new', { ...typed, short_name: 'UF' });
  expect([sent.statusCode, sent.headers.location]).toEqual([303, `/office/accounts/${id}`]);
  expect((await browsing.post('/office/accounts/new', { ...typed, short_name: 'UF' })).headers.location).toBe(
    `/office/accounts/${id}`,
  );
  expect((await browsing.get('/office/accounts')).body.split('Umbral &lt;Film&gt; Works')).toHaveLength(2);
});

test('office pages need staff, and their forms a token', async () => {
  const contact = await web.signInByPage(account.emailOf('viewer'), business.password);
  for (const path of ['/office/accounts', `/office/accounts/${account.id}`, '/office/price-book'])
    expect((await contact.get(path)).statusCode).toBe(404);
  const office = await web.signInByPage(business.emailOf('office'), business.password);
  expect((await office.post('/office/accounts/new', { _csrf: 'made up' })).statusCode).toBe(403);
  const technician = await web.signInByPage(business.emailOf('technician'), business.password);
  expect((await technician.get(`/office/accounts/${account.id}`)).statusCode).toBe(200);
  expect((await technician.get(`/office/accounts/${account.id}/edit`)).statusCode).toBe(403);
});

test('a certificate that ends within thirty days warns on the account’s page', async () => {
  const own = await anAccount(business, {
    shortName: 'WARN',
    certificate: { kind: 'resale', number: 'R-5', validFrom: '2026-01-01', validTo: '2026-08-20' },
  });
  const office = await web.signInByPage(business.emailOf('office'), business.password);
  expect((await office.get(`/office/accounts/${own.id}`)).body).toContain(
    'Certificate R-5 ends on Aug 20, 2026',
  );
});
