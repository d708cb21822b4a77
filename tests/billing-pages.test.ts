import type { InvoiceId, PaymentId } from '@grainwright/domain';
import type { InvoiceView } from '@grainwright/operations';
import { beforeAll, expect, test } from 'vitest';
import { billingDesk, tailgate } from './support/billing-desk.ts';
import { acceptedWork } from './support/billing-world.ts';
import { type Browsing, openWeb, type Web } from './support/web.ts';
import { asAdministrator } from './support/work-in-hand.ts';
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
  const chosen = await bookkeeper.get('/office/payments/new?who=brackwater');
  expect(chosen.statusCode === 303 ? chosen.headers.location : chosen.body).toContain(account.id);
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

test('what is open is paid oldest first, page by page, and turning a page keeps what was typed', async () => {
  const other = await anAccount(business);
  const oldest = await desk.issued(other);
  const latest = await withOpenCopies(oldest, 104);
  const page = await bookkeeper.get(`/office/payments/new?account=${other.id}`);
  expect(page.body).toContain(`applied-${oldest.id}`);
  expect(page.body).not.toContain(`applied-${latest}`);
  const list = await bookkeeper.get(`/office/invoices?account=${other.id}`);
  expect(list.body).toContain(`/office/invoices/${latest}`);
  const older = /href="([^"]*before=[0-9a-f-]+)"/.exec(list.body)?.[1]?.replaceAll('&amp;', '&') ?? '';
  const rest = (await bookkeeper.get(older)).body;
  expect([rest.includes(`/office/invoices/${oldest.id}`), rest.includes(latest)]).toEqual([true, false]);
  const more =
    /formaction="([^"]*past=[0-9a-f-]+)" formnovalidate[^>]*>Later invoices/.exec(page.body)?.[1] ?? '';
  const paymentId = world.newId<PaymentId>();
  const typed = {
    payment_id: paymentId,
    account: other.id,
    method: 'card',
    amount: '30.00',
    received_on: '2026-08-05',
    reference: 'pp 77',
    invoice_id: oldest.id,
    [`applied-${oldest.id}`]: '10.00',
  };
  const turned = await bookkeeper.post(more, { ...typed, ask: 'turn' });
  expect(turned.statusCode).toBe(200);
  expect(turned.body).toContain(`applied-${latest}`);
  for (const kept of ['value="30.00"', 'value="pp 77"', `name="applied-${oldest.id}" value="10.00"`])
    expect(turned.body).toContain(kept);
  expect(plain(turned.body)).toContain('The amount for one invoice of other pages is kept');
  const fields = new URLSearchParams({ ...typed, [`applied-${latest}`]: '20.00', _csrf: bookkeeper.token });
  fields.append('invoice_id', latest);
  const recorded = await web.app.inject({
    method: 'POST',
    url: more,
    cookies: bookkeeper.cookies,
    headers: { 'content-type': 'application/x-www-form-urlencoded' },
    payload: fields.toString(),
  });
  expect([recorded.statusCode, recorded.headers.location]).toEqual([303, `/office/payments/${paymentId}`]);
  const shown = await bookkeeper.get(`/office/payments/${paymentId}`);
  expect(plain(shown.body)).toContain('Account credit left $0.00');
});

/** Copies an issued invoice, open, so that a list is long; answers with the last one's id. */
async function withOpenCopies(invoice: InvoiceView, count: number): Promise<InvoiceId> {
  const copies = Array.from({ length: count }, () => world.newId<InvoiceId>());
  await asAdministrator(world, async (sql) => {
    await sql`insert into invoices (tenant_id, id, sequence, number, account_id, visit_id, issued_on, due_on, worked_on,
        currency, seller, buyer, basis, net_minor, tax_minor, total_minor, issued_by, issued_at)
      select i.tenant_id, copy.id, 900000 + copy.place, 'COPY-' || copy.place, i.account_id, i.visit_id, i.issued_on,
        i.due_on, i.worked_on, i.currency, i.seller, i.buyer, i.basis, i.net_minor, i.tax_minor, i.total_minor,
        i.issued_by, i.issued_at
      from invoices i cross join unnest(${copies}::uuid[]) with ordinality copy (id, place) where i.id = ${invoice.id}`;
    return sql`insert into invoice_balances (tenant_id, invoice_id, open_minor)
      select tenant_id, id, total_minor from invoices where id = any(${copies}::uuid[])`;
  });
  return copies.at(-1) ?? invoice.id;
}

test('an exempt invoice says that no sales tax is due and by which certificate', async () => {
  const certificate = {
    kind: 'resale',
    number: 'KV-RS-20417',
    validFrom: '2026-01-01',
    validTo: null,
  } as const;
  const exempt = await anAccount(business, { certificate });
  const invoice = await desk.issued(exempt);
  // The taxed one comes to 284.90, of which 1.47 are tax.
  expect(invoice).toMatchObject({ taxMinor: 0n, totalMinor: 28343n, certificateKind: 'resale' });
  const owner = await web.signInByPage(exempt.emailOf('payer'), business.password);
  for (const page of [
    await bookkeeper.get(`/office/invoices/${invoice.id}`),
    await owner.get(`/account/invoices/${invoice.id}`),
  ])
    expect(plain(page.body)).toContain('Sales tax, exempt, resale certificate KV-RS-20417 $0.00');
  const taxed = await bookkeeper.get(`/office/invoices/${(await desk.issued(account)).id}`);
  expect(plain(taxed.body)).not.toContain('exempt');
  // 5 % state and 1.25 % local of the materials, 23.52.
  expect(plain(taxed.body)).toMatch(/state tax, 5 % of \$23\.52 \$1\.18/);
});

test('the statement of a month that runs is as of today, and one that has not begun is refused in a sentence', async () => {
  const other = await anAccount(business);
  await desk.issued(other);
  const page = plain((await bookkeeper.get(`/office/accounts/${other.id}/statements/2026-08`)).body);
  for (const shown of ['Open as of Aug 5, 2026', 'not yet due', '$284.90 owed as of Aug 5, 2026'])
    expect(page).toContain(shown);
  expect(page).not.toContain('Aug 31');
  const file = (await bookkeeper.get(`/office/accounts/${other.id}/statements/2026-08.csv`)).body;
  expect(file).toContain(',closing_balance,2026-08-05,');
  expect(file).not.toContain('2026-08-31');
  const coming = await bookkeeper.get(`/office/accounts/${other.id}/statements/2026-09`);
  expect(coming.statusCode).toBe(422);
  expect(plain(coming.body)).toContain('That month has not begun. Choose an earlier one.');
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
  expect(page).toContain('Credit balance $123.22');
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
