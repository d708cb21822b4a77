import { beforeAll, expect, test } from 'vitest';
import { askedEstimate } from './support/asked-estimates.ts';
import { type Browsing, openWeb, type Web } from './support/web.ts';
import { type Account, aBusiness, anAccount, type Business, openWorld, type World } from './support/world.ts';

// Limits and numbers of the agreed demo figures; common practice of the trade, no published source.

let world: World;
let web: Web;
let business: Business;
let lot: Account;
let office: Browsing;
let base: string;

beforeAll(async () => {
  world = await openWorld();
  web = await openWeb(world);
  business = await aBusiness(world);
  lot = await anAccount(business, { name: 'Penny Lantern Motors', tierCode: 'lot', shortName: 'PL' });
  office = await web.signInByPage(business.emailOf('office'), business.password);
  base = `/office/accounts/${lot.id}`;
});

const hidden = (page: string, name: string) =>
  (new RegExp(`name="${name}" value="([^"]*)"`).exec(page)?.[1] ?? '')
    .replaceAll('&#34;', '"')
    .replaceAll('&quot;', '"');

test('the office sets a standing approval and ends it; the account reads it, and an estimate above it says by how much', async () => {
  const form = await office.get(`${base}/standing-approvals/new`);
  const fields = {
    id: hidden(form.body, 'id'),
    per_vehicle: '250.00',
    per_visit: '1200.00',
    text: 'Ravi Stellmacher, by e-mail',
    valid_from: '2026-08-01',
  };
  const empty = await office.post(`${base}/standing-approvals/new`, {
    ...fields,
    per_vehicle: '',
    per_visit: '',
  });
  expect(empty.statusCode).toBe(422);
  expect(empty.body).toContain('Write at least one limit');
  expect((await office.post(`${base}/standing-approvals/new`, fields)).statusCode).toBe(303);
  expect((await office.get(base)).body).toContain('Ravi Stellmacher, by e-mail');

  const viewer = await web.signInByPage(lot.emailOf('viewer'), business.password);
  const agreed = await viewer.get('/account/agreement');
  expect(agreed.body).toContain('$250.00');
  expect(agreed.body).toContain('In force');

  const held = await askedEstimate(lot, [
    { part: 'seat_bolster', rateCode: 'PU-L' },
    { part: 'front_door_panel', damage: 'scuff', rateCode: 'SC-M' },
  ]);
  const page = await viewer.get(`/account/work-orders/${held.workOrderId}`);
  expect(page.body).toContain('This vehicle comes to $305.53, $55.53 over the limit of $250.00 a vehicle');
  const passed = await askedEstimate(lot, [{ part: 'seat_cushion', rateCode: 'BN-S' }]);
  const shown = await viewer.get(`/account/work-orders/${passed.workOrderId}`);
  expect(shown.body).toContain('Approved by standing approval');
  expect(shown.body).toContain('up to $250.00 a vehicle and $1,200.00 a visit');

  const end = `${base}/standing-approvals/${fields.id}/end`;
  expect((await office.get(end)).statusCode).toBe(200);
  const refused = await office.post(end, { valid_to: '2026-07-01' });
  expect(refused.statusCode).toBe(422);
  expect((await office.post(end, { valid_to: '2026-08-04' })).statusCode).toBe(303);
  expect((await viewer.get('/account/agreement')).body).toContain('Ended');
});

test('the office files a purchase order and raises its cap; the account reads what is left', async () => {
  const form = await office.get(`${base}/purchase-orders/new`);
  const fields = { id: hidden(form.body, 'id'), number: '77105', cap: '650.00', valid_from: '2026-08-01' };
  expect((await office.post(`${base}/purchase-orders/new`, fields)).statusCode).toBe(303);
  const change = `${base}/purchase-orders/${fields.id}/change`;
  expect((await office.get(change)).body).toContain('650.00');
  const raised = { cap: '900.00', valid_to: '', note: 'raised by telephone' };
  expect((await office.post(change, { ...raised, cap: 'plenty' })).statusCode).toBe(422);
  expect((await office.post(change, raised)).statusCode).toBe(303);
  const viewer = await web.signInByPage(lot.emailOf('viewer'), business.password);
  expect((await viewer.get('/account/agreement')).body).toContain('$900.00');
});

test('whoever saves a form that was opened before somebody else saved theirs is told, and what they typed stays', async () => {
  const mine = await office.get(`${base}/edit`);
  const terms = {
    name: 'Penny Lantern Motors',
    short_name: 'PL',
    kind: 'glass_installer',
    billing_address: '9 Mill Lane\r\nTessaly Bend',
    tier_code: 'lot',
    tax_area_code: 'A',
    terms_days: '15',
    statement_kind: 'open_item',
    invoice_rule: 'per_visit',
    acceptance_rule: 'vehicle_owner',
    photo_rule: 'trade',
  };
  const seen = hidden(mine.body, 'seen');
  expect(seen).toContain('"terms_days":"15"');
  expect((await office.post(`${base}/edit`, { ...terms, terms_days: '20', seen })).statusCode).toBe(303);
  const late = await office.post(`${base}/edit`, {
    ...terms,
    no_show_fee: '55.00',
    new_group: 'Lantern Group',
    seen,
  });
  expect(late.statusCode).toBe(409);
  expect(late.body).toContain('Days to pay: it said 15 and says 20 now.');
  expect(late.body).toMatch(/name="terms_days"[^>]*value="20"|value="20"[^>]*name="terms_days"/);
  expect(late.body).toContain('value="55.00"');
  const again = {
    ...terms,
    terms_days: '20',
    no_show_fee: '55.00',
    new_group: 'Lantern Group',
    new_group_id: hidden(late.body, 'new_group_id'),
    seen: hidden(late.body, 'seen'),
  };
  expect((await office.post(`${base}/edit`, again)).statusCode).toBe(303);
  const page = await office.get(base);
  expect(page.body).toContain('Lantern Group');
  expect(page.body).toContain('$55.00');
});

test('the API keeps settings, groups, standing approvals and purchase orders, and refuses a change from an older state', async () => {
  const headers = await web.signIn(business.emailOf('office'), business.password);
  const api = (method: 'GET' | 'POST' | 'PUT' | 'PATCH', path: string, payload?: object) =>
    web.app.inject({
      method,
      url: `/api/v1${path}`,
      headers,
      ...(payload === undefined ? {} : { payload }),
    });
  const account = await anAccount(business, { name: 'Ubrey Fleet' });
  const path = `/accounts/${account.id}`;
  const [group, approval, order] = [world.newId(), world.newId(), world.newId()];
  expect((await api('POST', '/account-groups', { id: group, name: 'Ubrey together' })).statusCode).toBe(201);
  const settings = { no_show_fee: '55.00', applies_money_itself: true, group_id: group };
  const changed = await api('PATCH', path, { ...settings, seen: { terms_days: 15, no_show_fee: null } });
  expect(changed.json()).toMatchObject({ ...settings, group_name: 'Ubrey together', successor: null });
  const stale = await api('PATCH', path, { terms_days: 20, seen: { no_show_fee: null } });
  expect([stale.statusCode, stale.json<{ code: string }>().code]).toEqual([409, 'shown_changed']);
  const limits = { id: approval, per_vehicle: '300.00', valid_from: '2026-08-01', text: 'by letter' };
  expect((await api('POST', `${path}/standing-approvals`, limits)).statusCode).toBe(201);
  expect((await api('GET', `${path}/standing-approvals`)).json()).toMatchObject({
    standing_approvals: [{ id: approval, per_vehicle: '300.00', per_visit: null, standing: 'in_force' }],
  });
  const filed = { id: order, number: '9001', cap: '650.00', valid_from: '2026-08-01' };
  expect((await api('POST', `${path}/purchase-orders`, filed)).statusCode).toBe(201);
  const raised = { cap: '900.00', valid_to: null, note: '' };
  expect((await api('PUT', `${path}/purchase-orders/${order}`, raised)).statusCode).toBe(200);
  expect((await api('GET', `${path}/purchase-orders`)).json()).toMatchObject({
    purchase_orders: [{ number: '9001', cap: '900.00', invoiced: '0.00', left: '900.00' }],
  });
  const sent = await askedEstimate(account, [{ rateCode: 'WR-1', damage: 'wrinkle' }]);
  expect((await api('GET', `/work-orders/${sent.workOrderId}`)).json()).toMatchObject({
    state: 'approved',
    decision: { decided_by: null, given: 'by_rule', rule: { standing_approval_id: approval } },
    increase: null,
    earlier_with_ro: [],
  });
});
