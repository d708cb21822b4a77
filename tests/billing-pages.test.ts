import type { InvoiceId, PaymentId } from '@grainwright/domain';
import { beforeAll, expect, test } from 'vitest';
import { billingDesk, tailgate } from './support/billing-desk.ts';
import { acceptedWork } from './support/billing-world.ts';
import { type Browsing, openWeb, type Web } from './support/web.ts';
import {
  type Account,
  aBusiness,
  anAccount,
  type Business,
  must,
  openWorld,
  type World,
} from './support/world.ts';

let world: World;
let web: Web;
let business: Business;
let account: Account;
let desk: ReturnType<typeof billingDesk>;
let bookkeeper: Browsing;
let payer: Browsing;

beforeAll(async () => {
  world = await openWorld();
  web = await openWeb(world);
  business = await aBusiness(world);
  account = await anAccount(business);
  desk = billingDesk(business);
  bookkeeper = await web.signInByPage(business.emailOf('bookkeeper'), business.password);
  payer = await web.signInByPage(account.emailOf('payer'), business.password);
});

const plain = (body: string) => body.replaceAll(/<[^>]*>/g, ' ').replaceAll(/\s+/g, ' ');

test('accepted work is invoiced from the office and lands on its invoice', async () => {
  const work = await acceptedWork(account, { codes: tailgate });
  const ready = await bookkeeper.get('/office/invoices/ready');
  expect(plain(ready.body)).toContain('Brackwater Glass &amp; Screen');
  expect(ready.body).toContain(work.id);
  const invoiceId = world.newId<InvoiceId>();
  const fields = { invoice_id: invoiceId, work_order_ids: work.id };
  const issued = await bookkeeper.post('/office/invoices', fields);
  expect([issued.statusCode, issued.headers.location]).toEqual([303, `/office/invoices/${invoiceId}`]);
  const page = plain((await bookkeeper.get(`/office/invoices/${invoiceId}`)).body);
  for (const shown of [
    '$284.90',
    'Orrin Vasek',
    '$69.05',
    '$3.63',
    '$238.43',
    '$1.18',
    '$0.29',
    'Aug 20, 2026',
  ])
    expect(page).toContain(shown);
  const again = await bookkeeper.post('/office/invoices', {
    ...fields,
    invoice_id: world.newId<InvoiceId>(),
  });
  expect(again.statusCode).toBe(409);
  expect(plain(again.body)).toContain('is on invoice');
});

test('the payment form keeps what was typed, says what is wrong beside its box, and records', async () => {
  const invoice = await desk.issued(account);
  expect((await bookkeeper.get('/office/payments/new')).body).toContain(account.id);
  const form = await bookkeeper.get(`/office/payments/new?account=${account.id}`);
  expect(form.body).toContain(`applied-${invoice.id}`);
  const paymentId = world.newId<PaymentId>();
  const fields = {
    payment_id: paymentId,
    account: account.id,
    method: 'check',
    amount: '300.00',
    received_on: '2026-08-05',
    reference: 'check 1044',
    invoice_id: invoice.id,
    [`applied-${invoice.id}`]: '299.00',
  };
  const refused = await bookkeeper.post('/office/payments/new', fields);
  expect(refused.statusCode).toBe(409);
  expect(refused.body).toContain('value="299.00"');
  expect(refused.body).toMatch(new RegExp(`id="field-applied-${invoice.id}-error">[^<]*\\$284\\.90`));
  const recorded = await bookkeeper.post('/office/payments/new', {
    ...fields,
    [`applied-${invoice.id}`]: '280.00',
  });
  expect(recorded.headers.location).toBe(`/office/payments/${paymentId}`);
  const page = plain((await bookkeeper.get(`/office/payments/${paymentId}`)).body);
  expect(page).toContain('Account credit left $20.00');
  const rest = { application_id: world.newId(), invoice_id: invoice.id, amount: '4.90' };
  const applied = await bookkeeper.post(`/office/payments/${paymentId}/applications`, rest);
  expect(applied.statusCode).toBe(303);
  expect(await desk.reread(invoice)).toMatchObject({ openMinor: 0n });
});

test('every page of invoices, payments and statements opens for those who may, and for nobody else', async () => {
  const invoice = await desk.issued(account);
  const payment = must(await desk.pay({ account, amount: '10.00' }));
  const statements = `/office/accounts/${account.id}/statements`;
  const office = [
    '/office/invoices',
    `/office/invoices?account=${account.id}&open=yes`,
    '/office/invoices/ready',
    `/office/invoices/${invoice.id}`,
    '/office/payments',
    `/office/payments/${payment.id}`,
    '/office/statements',
    `/office/statements?account=${account.id}`,
    `${statements}/2026-08`,
    `${statements}/2026-08.csv`,
  ];
  const own = [
    '/account/invoices',
    `/account/invoices/${invoice.id}`,
    '/account/statements',
    '/account/statements/2026-08',
    '/account/statements/2026-08.csv',
  ];
  const stranger = await anAccount(business);
  const outsider = await web.signInByPage(stranger.emailOf('payer'), business.password);
  for (const path of office) {
    expect([path, (await bookkeeper.get(path)).statusCode]).toEqual([path, 200]);
    expect([path, (await payer.get(path)).statusCode]).toEqual([path, 404]);
  }
  for (const path of own) expect([path, (await payer.get(path)).statusCode]).toEqual([path, 200]);
  expect((await outsider.get(`/account/invoices/${invoice.id}`)).statusCode).toBe(404);
  expect((await payer.get('/account/statements/2026-13')).statusCode).toBe(422);
});

test('a balance in the customer’s favor is printed as a credit and not as a bill', async () => {
  const other = await anAccount(business);
  must(await desk.pay({ account: other, amount: '123.22' }));
  const page = plain((await bookkeeper.get(`/office/accounts/${other.id}/statements/2026-08`)).body);
  expect(page).toContain('$123.22 in your favor');
  expect(page).toContain('Closing balance −$123.22');
});

test('the API issues, records, applies and states in decimal strings', async () => {
  const other = await anAccount(business);
  const headers = await web.signIn(business.emailOf('bookkeeper'), business.password);
  const call = async (method: 'GET' | 'POST', url: string, payload?: object) => {
    const reply = await web.app.inject({
      method,
      url: `/api/v1${url}`,
      headers,
      ...(payload ? { payload } : {}),
    });
    return { status: reply.statusCode, body: reply.body, json: () => reply.json() };
  };
  const work = await acceptedWork(other, { codes: tailgate });
  const invoiceId = world.newId<InvoiceId>();
  const issued = await call('POST', '/invoices', { id: invoiceId, work_order_ids: [work.id] });
  expect([issued.status, issued.json()]).toEqual([
    201,
    expect.objectContaining({ total: '284.90', open: '284.90', tax: '1.47' }),
  ]);
  const paymentId = world.newId<PaymentId>();
  const payment = {
    id: paymentId,
    account_id: other.id,
    method: 'card',
    amount: '284.90',
    received_on: '2026-08-05',
  };
  expect((await call('POST', '/payments', payment)).json()).toMatchObject({ unapplied: '284.90' });
  const application = { id: world.newId(), invoice_id: invoiceId, amount: '300.00' };
  const refused = await call('POST', `/payments/${paymentId}/applications`, application);
  expect([refused.status, refused.json()]).toEqual([
    409,
    expect.objectContaining({ code: 'over_payment', field: 'amount' }),
  ]);
  const applied = await call('POST', `/payments/${paymentId}/applications`, {
    ...application,
    amount: '284.90',
  });
  expect(applied.json()).toMatchObject({ unapplied: '0.00', applications: [{ amount: '284.90' }] });
  expect((await call('POST', '/payments', { ...payment, amount: '284.91' })).json()).toMatchObject({
    code: 'id_reused',
  });
  const statement = await call('GET', `/accounts/${other.id}/statements/2026-08`);
  expect(statement.json()).toMatchObject({
    opening: '0.00',
    charges: '284.90',
    payments: '284.90',
    closing: '0.00',
  });
  const months = await call('GET', `/accounts/${other.id}/statements`);
  expect(months.json()).toMatchObject({ months: [{ month: '2026-08', closing: '0.00' }] });
  expect(
    (await call('GET', '/invoices?open=true')).json().invoices.map((row: { id: string }) => row.id),
  ).not.toContain(invoiceId);
});

test('the statement comes as CSV under its own address and for who accepts CSV', async () => {
  const headers = await web.signIn(account.emailOf('payer'), business.password);
  const url = `/api/v1/accounts/${account.id}/statements/2026-08`;
  const byAddress = await web.app.inject({ method: 'GET', url: `${url}.csv`, headers });
  const byHeader = await web.app.inject({ method: 'GET', url, headers: { ...headers, accept: 'text/csv' } });
  expect(byAddress.headers['content-type']).toContain('text/csv');
  expect(byAddress.headers['content-disposition']).toContain('statement-2026-08.csv');
  expect(byAddress.body.startsWith('account,month,section,')).toBe(true);
  expect(byHeader.body).toBe(byAddress.body);
});
