import type { DisputeId, PurchaseOrderId, StandingApprovalId } from '@grainwright/domain';
import {
  addPurchaseOrder,
  answerDispute,
  listInvoices,
  listNeeds,
  openDispute,
  readOwnAccount,
  readSavings,
  setStandingApproval,
} from '@grainwright/operations';
import { beforeAll, expect, test } from 'vitest';
import { askedEstimate } from './support/asked-estimates.ts';
import { billingDesk, tailgate } from './support/billing-desk.ts';
import { acceptedWork } from './support/billing-world.ts';
import { openWeb, type Web } from './support/web.ts';
import {
  type Account,
  type AccountOptions,
  aBusiness,
  anAccount,
  type Business,
  must,
  openWorld,
  type World,
} from './support/world.ts';

// What an account is asked for is common practice of the trade, no published source. Amounts: the tailgate lining of
// 284.90 for the trade tier in area A, of which its repairs are 238.43; see tests/billing.test.ts.

let world: World;
let web: Web;
let business: Business;

beforeAll(async () => {
  world = await openWorld();
  web = await openWeb(world);
  business = await aBusiness(world);
});

async function accountOn(moment: string, options: AccountOptions = {}): Promise<Account> {
  world.at(moment);
  return anAccount(business, { limit: null, ...options });
}

const needsOf = async ({ viewer }: Account) => must(await listNeeds(world.services, viewer));
const homeOf = async (account: Account, who: 'approver' | 'payer' | 'viewer') => {
  const browser = await web.signInByPage(account.emailOf(who), business.password);
  return (await browser.get('/account')).body;
};

test('an account of which nothing is needed is told so', async () => {
  const account = await accountOn('2026-10-14T09:00');
  expect((await needsOf(account)).nothing).toBe(true);
  expect(await homeOf(account, 'payer')).toContain('We need nothing from you');
});

test('an estimate to answer stands first, with its amount; the sixth is behind a link to all of them', async () => {
  const account = await accountOn('2026-10-14T09:00', { tierCode: 'dealer' });
  const lines = [{ part: 'front_door_panel', damage: 'scuff', rateCode: 'SC-S' }];
  for (let vehicle = 0; vehicle < 6; vehicle += 1) await askedEstimate(account, lines);
  const needs = await needsOf(account);
  expect([needs.estimates.length, needs.estimateCount]).toEqual([5, 6]);
  const home = await homeOf(account, 'approver');
  expect(home).toContain('Look and answer');
  expect(home).toContain('All 6 to answer');
  const viewers = await homeOf(account, 'viewer');
  expect(home).toContain('Estimates to answer');
  for (const words of ['Estimates that wait for an answer of your approvers', 'All 6 that wait'])
    expect(viewers).toContain(words);
  expect(viewers).not.toContain('Estimates to answer');
  expect(viewers).not.toContain('Look and answer');
});

test('a PO number that is missing is asked for from the day the work is finished, and given right there', async () => {
  const account = await accountOn('2026-10-14T09:00', { requiresPo: true });
  const { id } = await acceptedWork(account, { codes: tailgate });
  world.at('2026-10-19T09:00');
  const [owed] = (await needsOf(account)).numbers;
  expect(owed).toMatchObject({
    workOrderId: id,
    missing: ['purchase_order'],
    finishedOn: '2026-10-14',
    days: 5,
  });
  const payer = await web.signInByPage(account.emailOf('payer'), business.password);
  const home = await payer.get('/account');
  expect(home.body).toMatch(
    /Work finished Oct 14, 2026, 5 days ago\.\s+Its invoice can’t be issued without the PO number/,
  );
  expect(await homeOf(account, 'viewer')).not.toContain('name="po_number"');
  const given = await payer.post(`/account/work-orders/${id}/numbers`, { from: 'needs', po_number: '77105' });
  expect([given.statusCode, given.headers.location]).toEqual([303, '/account']);
  expect((await needsOf(account)).nothing).toBe(true);
});

test('a purchase order is to be raised by what the work approved on it goes beyond its cap', async () => {
  const account = await accountOn('2026-10-14T09:00');
  const id = world.newId<PurchaseOrderId>();
  const order = { id, accountId: account.id, number: '77106', cap: '200.00', note: '' };
  const dates = { validFrom: '2026-01-01', validTo: null };
  must(await addPurchaseOrder(world.services, business.office, { ...order, ...dates }));
  await acceptedWork(account, { codes: tailgate, poNumber: '77106' });
  const { purchaseOrders } = await needsOf(account);
  expect(purchaseOrders).toMatchObject([
    { number: '77106', leftMinor: 20000n, approvedMinor: 28490n, shortMinor: 8490n, workOrders: 1 },
  ]);
  const home = await homeOf(account, 'approver');
  expect(home).toContain('$84.90');
  expect(home).toContain('mailto:');
});

test('work that somebody of the account has to accept is asked for while it is only done', async () => {
  const account = await accountOn('2026-10-14T09:00', { acceptanceRule: 'account_representative' });
  const { id } = await acceptedWork(account, { codes: tailgate, state: 'done' });
  expect((await needsOf(account)).acceptances).toMatchObject([{ workOrderId: id }]);
  const owners = await accountOn('2026-10-14T09:00', { acceptanceRule: 'vehicle_owner' });
  await acceptedWork(owners, { codes: tailgate, state: 'done' });
  expect((await needsOf(owners)).nothing).toBe(true);
});

test('an invoice is asked for from the day after it was due, less what is in dispute, of whoever sees invoices', async () => {
  const account = await accountOn('2026-10-14T09:00');
  const desk = billingDesk(business);
  const invoice = await desk.issued(account);
  const disputeId = world.newId<DisputeId>();
  const said = { lineId: null, amount: '30.00', reason: 'disputed', note: 'one vehicle was fine', on: null };
  must(await openDispute(world.services, account.payer, { disputeId, invoiceId: invoice.id, ...said }));
  // Terms of 15 days: due on October 29.
  world.at('2026-10-29T09:00');
  expect((await needsOf(account)).pastDue).toEqual([]);
  world.at('2026-11-01T09:00');
  expect((await needsOf(account)).pastDue).toEqual([
    { invoiceId: invoice.id, number: invoice.number, dueOn: '2026-10-29', days: 3, openMinor: 254_90n },
  ]);
  const home = await homeOf(account, 'payer');
  expect(home).toMatch(/Invoices past due[\s\S]*\$254\.90[\s\S]*Due Oct 29, 2026, 3 days ago\./);
  expect(home).not.toContain('We need nothing from you');
});

test('an answer that a disputed amount stands is told until the invoice is settled, and listed for good', async () => {
  const account = await accountOn('2026-10-14T09:00');
  const desk = billingDesk(business);
  const invoice = await desk.issued(account);
  const disputeId = world.newId<DisputeId>();
  const said = { lineId: null, amount: '30.00', reason: 'disputed', note: 'one vehicle was fine', on: null };
  must(await openDispute(world.services, account.payer, { disputeId, invoiceId: invoice.id, ...said }));
  expect((await needsOf(account)).disputes).toEqual([]);
  expect(await standing(account, 'disputed')).toEqual([invoice.number]);
  const answer = { disputeId, answer: 'upheld', creditNoteId: null, note: 'the pictures show it' };
  must(await answerDispute(world.services, business.bookkeeper, answer));
  expect((await needsOf(account)).disputes).toMatchObject([{ invoiceNumber: invoice.number }]);
  expect(await homeOf(account, 'payer')).toContain('the pictures show it');
  must(await desk.pay({ account, amount: '284.90', on: '2026-10-14', for: [[invoice, '284.90']] }));
  expect((await needsOf(account)).nothing).toBe(true);
  const payer = await web.signInByPage(account.emailOf('payer'), business.password);
  expect((await payer.get('/account/disputes')).body).toContain('the pictures show it');
  expect(await standing(account, 'disputed')).toEqual([]);
  expect(await standing(account, 'paid')).toEqual([invoice.number]);
});

async function standing(account: Account, how: 'open' | 'disputed' | 'paid' | 'void') {
  const asked = { accountId: null, openOnly: false, past: null, standing: how };
  const list = must(await listInvoices(world.services, account.viewer, asked));
  return list.rows.map((row) => row.number);
}

test('savings count only vehicles for which a new part was quoted', async () => {
  const account = await accountOn('2026-10-14T09:00');
  const desk = billingDesk(business);
  const quoted = await acceptedWork(account, { codes: tailgate, replacement: '900.00' });
  const other = await acceptedWork(account, { codes: tailgate });
  must(await desk.issue([quoted]));
  must(await desk.issue([other]));
  const october = must(
    await readSavings(world.services, account.viewer, { from: '2026-10-01', to: '2026-10-31' }),
  );
  expect(october).toMatchObject({ vehicles: 1, quotedMinor: 90000n, repairsMinor: 23843n });
  expect(october.saved?.savedMinor).toBe(66157n);
  const september = { from: '2026-09-01', to: '2026-09-30' };
  expect(must(await readSavings(world.services, account.viewer, september))).toMatchObject({
    vehicles: 0,
    saved: null,
  });
});

test('the account’s own page tells who approves how much, and nothing of how to reach anybody or of its prices', async () => {
  const account = await accountOn('2026-10-14T09:00', { limit: '350.00' });
  const approval = { perVehicle: '250.00', perVisit: null, perMonth: null, text: 'by mail' };
  const dates = { validFrom: '2026-10-01', validTo: null };
  const id = world.newId<StandingApprovalId>();
  const asked = { id, accountId: account.id, ...approval, ...dates };
  must(await setStandingApproval(world.services, business.office, asked));
  const view = must(await readOwnAccount(world.services, account.viewer));
  expect(view.people.map(({ name, role, limitMinor }) => [name, role, limitMinor])).toEqual([
    ['Ansel Corvin', 'approver', 35000n],
    ['Bettina Quarles', 'payer', null],
    ['Casimir Doane', 'viewer', null],
  ]);
  expect(view.standingApprovals).toHaveLength(1);
  const browser = await web.signInByPage(account.emailOf('viewer'), business.password);
  const page = (await browser.get('/account/details')).body;
  expect(page).toContain('$350.00');
  expect(page).not.toContain(account.emailOf('approver'));
  expect(page).not.toContain('trade');
});

test('staff have no portal, and a contact asks only of the own account', async () => {
  const [one, other] = [await accountOn('2026-10-14T09:00'), await accountOn('2026-10-14T09:00')];
  await acceptedWork(one, { codes: tailgate, state: 'done' });
  expect((await needsOf(other)).nothing).toBe(true);
  const refused = await listNeeds(world.services, business.office);
  expect(refused).toMatchObject({ ok: false, problem: { code: 'not_allowed' } });
});

test('a form sent after signing out leads to signing in and back to its page', async () => {
  const visitor = await web.visit();
  const answer = await web.app.inject({
    method: 'POST',
    url: `/account/work-orders/${world.newId()}/preview`,
    headers: {
      'content-type': 'application/x-www-form-urlencoded',
      host: 'books.example.com',
      referer: 'http://books.example.com/account/vehicles?q=1',
    },
    cookies: visitor.cookies,
    payload: new URLSearchParams({ _csrf: visitor.token }).toString(),
  });
  expect(answer.statusCode).toBe(401);
  expect(answer.body).toContain('href="/sign-in?next=%2Faccount%2Fvehicles%3Fq%3D1"');
});

test('what is refused leads back to what it was about; what is not there leads to all of its kind', async () => {
  const account = await accountOn('2026-10-14T09:00');
  const viewer = await web.signInByPage(account.emailOf('viewer'), business.password);
  const id = world.newId();
  const missing = await viewer.get(`/account/invoices/${id}`);
  expect([missing.statusCode, missing.body.includes('href="/account/invoices"')]).toEqual([404, true]);
  const asked = await askedEstimate(account, [{ rateCode: 'WR-1', damage: 'wrinkle' }]);
  const refused = await viewer.post(`/account/work-orders/${asked.workOrderId}/numbers`, { ro_number: '1' });
  expect(refused.statusCode).toBe(403);
  expect(refused.body).toContain(`href="/account/work-orders/${asked.workOrderId}"`);
});

test('a statement file that there can’t be is refused in plain words, as is a month before the account', async () => {
  const account = await accountOn('2026-10-14T09:00', { openedOn: '2026-07-01' });
  const payer = await web.signInByPage(account.emailOf('payer'), business.password);
  const file = await payer.get('/account/statements/2026-13.csv');
  expect([file.statusCode, file.headers['content-type']]).toEqual([422, 'text/plain; charset=utf-8']);
  const long = await payer.get('/account/statements/1999-01');
  expect(long.statusCode).toBe(422);
  expect(long.body).toContain('has statements from 2026-07 on');
  expect((await payer.get('/account/statements/2026-07')).statusCode).toBe(200);
});

test('what an approver’s limit is compared with names after-hours only where there are any', async () => {
  const account = await accountOn('2026-10-14T09:00', { limit: '700.00' });
  const approver = await web.signInByPage(account.emailOf('approver'), business.password);
  const pageOf = async (afterHours: boolean) => {
    const lines = [{ rateCode: 'WR-1', damage: 'wrinkle' }];
    const { workOrderId } = await askedEstimate(account, lines, { afterHours });
    return (await approver.get(`/account/work-orders/${workOrderId}`)).body;
  };
  expect(await pageOf(false)).toMatch(/All lines come to/);
  expect(await pageOf(true)).toMatch(/All lines with after-hours come to/);
});
