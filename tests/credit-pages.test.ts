import type { CreditNoteId, InvoiceId } from '@grainwright/domain';
import { readCreditNote, readInvoice } from '@grainwright/operations';
import postgres, { type Sql } from 'postgres';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { billingDesk } from './support/billing-desk.ts';
import { billedJob, dealerJob, lineOf } from './support/credit-desk.ts';
import { type Browsing, openWeb, type Web } from './support/web.ts';
import { aBusiness, type Business, must, openWorld, type World } from './support/world.ts';

let world: World;
let web: Web;
let business: Business;
let bookkeeper: Browsing;
let admin: Sql;

beforeAll(async () => {
  world = await openWorld();
  world.at('2026-10-14T17:40');
  web = await openWeb(world);
  business = await aBusiness(world);
  admin = postgres(world.adminUrl, { max: 1, onnotice: () => undefined });
  bookkeeper = await web.signInByPage(business.emailOf('bookkeeper'), business.password);
});
afterAll(async () => {
  await admin.end({ timeout: 5 });
});

const plain = (body: string) => body.replaceAll(/<[^>]*>/g, ' ').replaceAll(/\s+/g, ' ');
const seen = async (id: InvoiceId) => must(await readInvoice(world.services, business.bookkeeper, id));

// The agreed demo figures: 304.69 → 210.94, after-hours 121.64 → 98.21, in all 117.88.
test('a credit is shown line by line before it is issued, and what was typed stays when something is wrong', async () => {
  const { invoice } = await billedJob(business, admin, dealerJob);
  const address = `/office/invoices/${invoice.id}/credit`;
  const empty = await bookkeeper.get(address);
  expect(plain(empty.body)).toContain('everything else stays as it was issued');
  const line = lineOf(invoice, 'LT-L');
  const creditNoteId = world.newId<CreditNoteId>();
  const fields = {
    credit_note_id: creditNoteId,
    [`line-${line}`]: 'repriced',
    [`inches-${line}`]: 'two',
    reason: 'The ruler picture shows 2.6 in.',
    issued_on: '2026-10-14',
    apply: 'yes',
  };
  const refused = await bookkeeper.post(address, fields);
  expect(refused.statusCode).toBe(422);
  expect(refused.body).toContain(`id="field-inches-${line}-error"`);
  expect(refused.body).toContain('The ruler picture shows 2.6 in.');
  const right = { ...fields, [`inches-${line}`]: '2.6' };
  const shown = await bookkeeper.post(address, right);
  expect(shown.statusCode).toBe(200);
  for (const part of [
    '$304.69',
    '$210.94',
    '$121.64',
    '$98.21',
    'as issued 100 %',
    'Issue the credit note of $117.88',
  ])
    expect(plain(shown.body)).toContain(part);
  const unseen = await bookkeeper.post(address, { ...right, issue: 'yes', shown_total: '100.00' });
  expect(plain(unseen.body)).toContain('Nothing was issued');
  expect((await seen(invoice.id)).openMinor).toBe(61259n);
  const issuing = { ...right, issue: 'yes', shown_total: '117.88' };
  for (const _press of ['once', 'twice']) {
    const issued = await bookkeeper.post(address, issuing);
    expect([issued.statusCode, issued.headers.location]).toEqual([
      303,
      `/office/credit-notes/${creditNoteId}`,
    ]);
  }
  expect((await seen(invoice.id)).openMinor).toBe(49471n);
  const page = plain((await bookkeeper.get(`/office/credit-notes/${creditNoteId}`)).body);
  for (const part of ['$93.75', '$23.43', '$117.88', 'Applied in full', 'The ruler picture shows 2.6 in.'])
    expect(page).toContain(part);
  expect(plain((await bookkeeper.get(`/office/invoices/${invoice.id}`)).body)).toContain(
    'Credit note CN-3001',
  );
  expect(plain((await bookkeeper.get('/office/credit-notes')).body)).toContain('CN-3001');
});

test('a contact puts a line in dispute from the invoice and reads the answer there', async () => {
  const { account, invoice } = await billedJob(business, admin, dealerJob);
  const payer = await web.signInByPage(account.emailOf('payer'), business.password);
  const address = `/account/invoices/${invoice.id}/dispute`;
  expect(plain((await payer.get(`/account/invoices/${invoice.id}`)).body)).toContain(
    'Something is not right',
  );
  const fields = {
    dispute_id: world.newId(),
    line_id: lineOf(invoice, 'SC-S'),
    amount: '57.00',
    reason: '',
    note: 'That scuff was there before.',
  };
  const refused = await payer.post(address, fields);
  expect(refused.statusCode).toBe(422);
  expect(refused.body).toContain('That scuff was there before.');
  const opened = await payer.post(address, { ...fields, reason: 'disputed' });
  expect(opened.headers.location).toBe(`/account/invoices/${invoice.id}`);
  const waiting = plain((await payer.get(`/account/invoices/${invoice.id}`)).body);
  for (const part of ['Of it in dispute $57.00', 'no answer yet', '$612.59']) expect(waiting).toContain(part);
  const list = plain((await bookkeeper.get('/office/disputes')).body);
  expect(list).toContain('That scuff was there before.');
  const answer = { answer: 'upheld', note: '' };
  const unanswered = await bookkeeper.post(`/office/disputes/${fields.dispute_id}`, answer);
  expect(unanswered.statusCode).toBe(422);
  const said = { ...answer, note: 'The approved version shows the line.' };
  expect((await bookkeeper.post(`/office/disputes/${fields.dispute_id}`, said)).statusCode).toBe(303);
  expect(plain((await payer.get(`/account/invoices/${invoice.id}`)).body)).toContain(said.note);
  const viewer = await web.signInByPage(account.emailOf('viewer'), business.password);
  expect((await viewer.get(address)).statusCode).toBe(403);
});

test('an invoice is written off, recovered and voided from its page', async () => {
  const { invoice } = await billedJob(business, admin, dealerJob);
  const page = `/office/invoices/${invoice.id}`;
  const loss = { id: world.newId(), kind: 'bad_debt', amount: '612.59', reason: '', on: '2026-10-14' };
  const refused = await bookkeeper.post(`${page}/write-off`, loss);
  expect([refused.statusCode, refused.body.includes('value="612.59"')]).toEqual([422, true]);
  await bookkeeper.post(`${page}/write-off`, { ...loss, reason: 'ceased trading' });
  const written = await bookkeeper.get(page);
  expect(plain(written.body)).toContain('Written off Oct 14, 2026 −$612.59');
  const recover = /href="([^"]*\/recover\/[^"]*)"/.exec(written.body)?.[1] ?? '';
  expect((await bookkeeper.get(recover)).statusCode).toBe(200);
  await bookkeeper.post(recover, { reason: 'pays after all', on: '2026-10-14' });
  expect((await seen(invoice.id)).openMinor).toBe(61259n);
  expect((await bookkeeper.post(`${page}/void`, { reason: '' })).statusCode).toBe(422);
  await bookkeeper.post(`${page}/void`, { reason: 'made out to the wrong account' });
  const voided = plain((await bookkeeper.get(page)).body);
  for (const part of ['Void since Oct 14, 2026', 'made out to the wrong account'])
    expect(voided).toContain(part);
  expect(plain((await bookkeeper.get('/office/invoices')).body)).toContain('void');
  expect((await bookkeeper.get(`${page}/credit`)).statusCode).toBe(409);
  expect(await billingDesk(business).faults()).toEqual([]);
});

test('the API issues, previews and applies a credit note in decimal strings', async () => {
  const { account, invoice } = await billedJob(business, admin, dealerJob);
  const headers = await web.signIn(business.emailOf('bookkeeper'), business.password);
  const send = (url: string, payload: object) => web.app.inject({ method: 'POST', url, headers, payload });
  const asked = {
    invoice_id: invoice.id,
    reason: 'measured again',
    lines: [{ kind: 'repriced', line_id: lineOf(invoice, 'LT-L'), measured_inches: '2.6' }],
  };
  const preview = (await send('/api/v1/credit-notes/preview', asked)).json<Record<string, unknown>>();
  expect(preview).toMatchObject({ total: '117.88', tax: '0.70', open_after: '494.71' });
  const id = world.newId<CreditNoteId>();
  const issued = await send('/api/v1/credit-notes', { id, ...asked, issued_on: '2026-10-14' });
  expect([issued.statusCode, issued.json<{ total: string }>().total]).toEqual([201, '117.88']);
  expect(must(await readCreditNote(world.services, account.payer, id)).unappliedMinor).toBe(0n);
  const read = await web.app.inject({ url: `/api/v1/invoices/${invoice.id}`, headers });
  expect(read.json()).toMatchObject({ open: '494.71', forgiven: '117.88', paid: '0.00', voided_on: null });
});
