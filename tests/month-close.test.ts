import type { MonthClosingId } from '@grainwright/domain';
import { closeMonth, exportLedger, readMonthClose, reopenMonth } from '@grainwright/operations';
import postgres, { type Sql } from 'postgres';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { billingDesk, codeOf } from './support/billing-desk.ts';
import { openWeb } from './support/web.ts';
import { aBusiness, anAccount, type Business, must, openWorld, type World } from './support/world.ts';

let world: World;
let admin: Sql;

beforeAll(async () => {
  world = await openWorld();
  admin = postgres(world.adminUrl, { max: 1, onnotice: () => undefined });
});
afterAll(() => admin.end({ timeout: 5 }));

/** An invoice of 284.90 on 2026-08-05 and 100.00 of it paid the same day. */
async function anAugust(): Promise<Business> {
  world.at('2026-08-05T09:00');
  const business = await aBusiness(world);
  const desk = billingDesk(business);
  const account = await anAccount(business);
  const invoice = await desk.issued(account);
  must(await desk.pay({ account, amount: '100.00', for: [[invoice, '100.00']] }));
  world.at('2026-09-02T09:00');
  return business;
}

function books({ bookkeeper, owner }: Business) {
  const id = () => world.newId<MonthClosingId>();
  return {
    close: (month: string, closingId = id(), by = bookkeeper) =>
      closeMonth(world.services, by, { closingId, month }),
    reopen: (month: string, reason: string, by = owner, closingId = id()) =>
      reopenMonth(world.services, by, { closingId, month, reason }),
    read: async (month: string | null = null) =>
      must(await readMonthClose(world.services, bookkeeper, { month })),
  };
}

test('a month whose books hold is closed, and then takes no payment dated in it', async () => {
  const business = await anAugust();
  const { close, read } = books(business);
  const before = await read();
  expect([before.month, before.closed, before.notYet]).toEqual(['2026-08', false, null]);
  expect(before.checks.filter((check) => check.weight === 'must_hold').map((check) => check.holds)).toEqual([
    true,
    true,
    true,
  ]);
  const closed = must(await close('2026-08'));
  expect([closed.closed, closed.trail.map((each) => [each.month, each.action, each.doneByName])]).toEqual([
    true,
    [['2026-08', 'closed', 'Hollis Tamberlane']],
  ]);
  const account = await anAccount(business);
  const late = await billingDesk(business).pay({ account, amount: '5.00', on: '2026-08-31' });
  expect(late.ok ? 'ok' : [late.problem.code, late.problem.field]).toEqual(['month_closed', 'received_on']);
  must(await billingDesk(business).pay({ account, amount: '5.00', on: '2026-09-01' }));
  expect(await billingDesk(business).faults()).toEqual([]);
});

test('the database itself takes no entry dated in a closed month, whoever writes it', async () => {
  const business = await anAugust();
  must(await books(business).close('2026-08'));
  const entry = (occurredOn: string, posting: number) => ({
    tenant_id: business.tenantId,
    id: world.newId(),
    posting,
    event: 'payment_received',
    occurred_on: occurredOn,
    currency: 'USD',
    posted_by: business.owner.personId,
    posted_at: '2026-09-02T12:00:00Z',
  });
  const post = (occurredOn: string, posting: number) =>
    admin.begin(async (sql) => {
      const row = entry(occurredOn, posting);
      await sql`insert into journal_entries ${sql(row)}`;
      const line = { tenant_id: business.tenantId, entry_id: row.id, position: 1, ledger_account: 'bank' };
      await sql`insert into journal_lines ${sql([
        { ...line, amount_minor: '100' },
        { ...line, position: 2, ledger_account: 'opening_equity', amount_minor: '-100' },
      ])}`;
    });
  await expect(post('2026-08-31', 900_001)).rejects.toThrow('is closed');
  await expect(post('2026-09-01', 900_002)).resolves.toBeUndefined();
});

test('months are closed in their order, when they are over, and opened again from the last one on', async () => {
  const business = await anAugust();
  const { close, reopen, read } = books(business);
  const account = await anAccount(business);
  must(await billingDesk(business).pay({ account, amount: '5.00', on: '2026-09-01' }));
  expect(codeOf(await close('2026-09'))).toBe('wrong_state');
  world.at('2026-10-01T00:30');
  expect((await read('2026-09')).notYet).toContain('August 2026');
  expect(codeOf(await close('2026-09'))).toBe('wrong_state');
  must(await close('2026-08'));
  must(await close('2026-09'));
  expect(codeOf(await close('2026-09'))).toBe('wrong_state');
  expect(codeOf(await reopen('2026-08', 'a check was forgotten'))).toBe('wrong_state');
  must(await reopen('2026-09', 'a check was forgotten'));
  must(await reopen('2026-08', 'and one in August'));
  must(await billingDesk(business).pay({ account, amount: '7.00', on: '2026-08-30' }));
  must(await close('2026-08'));
  // Without a posting in between, and at the same moment.
  must(await reopen('2026-08', 'closed too early'));
  must(await close('2026-08'));
  const { trail, closed } = await read('2026-08');
  expect(closed).toBe(true);
  expect(trail.filter((each) => each.month === '2026-08').map((each) => [each.action, each.reason])).toEqual([
    ['closed', ''],
    ['reopened', 'closed too early'],
    ['closed', ''],
    ['reopened', 'and one in August'],
    ['closed', ''],
  ]);
});

test('a bookkeeper closes, only the owner opens again and only with a reason, and nobody else does either', async () => {
  const business = await anAugust();
  const { close, reopen } = books(business);
  expect(codeOf(await close('2026-08', undefined, business.office))).toBe('not_allowed');
  expect(codeOf(await close('2026-08', undefined, business.technician))).toBe('not_allowed');
  must(await close('2026-08'));
  expect(codeOf(await reopen('2026-08', 'why not', business.bookkeeper))).toBe('not_allowed');
  expect(codeOf(await reopen('2026-08', ' '))).toBe('invalid_input');
  must(await reopen('2026-08', 'the bank corrected a receipt'));
});

test('the same closing sent again answers as the first time, and its id stands for nothing else', async () => {
  const business = await anAugust();
  const { close, reopen } = books(business);
  const closingId = world.newId<MonthClosingId>();
  must(await close('2026-08', closingId));
  expect(must(await close('2026-08', closingId)).trail).toHaveLength(1);
  expect(codeOf(await reopen('2026-08', 'again', business.owner, closingId))).toBe('id_reused');
});

test('others post again before the answer is put together', async () => {
  const business = await anAugust();
  const account = await anAccount(business);
  const { database } = world.services;
  let transactions = 0;
  const withTenant: typeof database.withTenant = async (context, work) => {
    transactions += 1;
    if (transactions === 2)
      must(await billingDesk(business).pay({ account, amount: '5.00', on: '2026-09-01' }));
    return database.withTenant(context, work);
  };
  const services = { ...world.services, database: { ...database, withTenant } };
  const input = { closingId: world.newId<MonthClosingId>(), month: '2026-08' };
  const closed = must(await closeMonth(services, business.bookkeeper, input));
  expect(closed.months.map((each) => each.month)).toContain('2026-09');
});

test('books that do not hold are not closed, and the page says what is wrong', async () => {
  const business = await anAugust();
  const { close, read } = books(business);
  const [balance] = await admin`update invoice_balances set open_minor = open_minor - 1
    where tenant_id = ${business.tenantId} returning invoice_id`;
  expect(balance).toBeDefined();
  const ledger = (await read('2026-08')).checks.find((check) => check.name === 'ledger');
  expect(ledger).toMatchObject({ holds: false, words: expect.stringContaining('18489 instead of 18490') });
  expect(codeOf(await close('2026-08'))).toBe('wrong_state');
});

test('whoever posts while a month is being closed either comes before it or is refused', async () => {
  const business = await anAugust();
  const desk = billingDesk(business);
  const account = await anAccount(business);
  const { close, read } = books(business);
  const [closed, ...paid] = await Promise.all([
    close('2026-08'),
    ...Array.from({ length: 8 }, () => desk.pay({ account, amount: '1.00', on: '2026-08-31' })),
  ]);
  expect(codeOf(closed)).toBe('ok');
  expect(paid.every((each) => each.ok || each.problem.code === 'month_closed')).toBe(true);
  const closing = (await read('2026-08')).trail[0];
  const [late] = await admin`select count(*)::int as count from journal_entries
    where tenant_id = ${business.tenantId} and occurred_on <= '2026-08-31' and posting > ${String(closing?.posting)}`;
  expect(late?.count).toBe(0);
  expect(await desk.faults()).toEqual([]);
});

test('the page ticks what holds, closes by its form, and keeps who did what', async () => {
  const business = await anAugust();
  const web = await openWeb(world);
  const browser = await web.signInByPage(business.emailOf('bookkeeper'), business.password);
  const page = await browser.get('/office/month-close');
  for (const part of [
    'August 2026',
    'Done',
    'To look at',
    'Close August 2026',
    '1 account without the statement',
  ])
    expect(page.body).toContain(part);
  const id = /name="id" value="([^"]+)"/.exec(page.body)?.[1] ?? '';
  const closed = await browser.post('/office/month-close/2026-08/close', { id });
  expect([closed.statusCode, closed.headers.location]).toEqual([303, '/office/month-close?month=2026-08']);
  const after = await browser.get('/office/month-close?month=2026-08');
  for (const part of ['Closed', 'Hollis Tamberlane', 'Only the owner']) expect(after.body).toContain(part);
  const again = await browser.post('/office/month-close/2026-08/close', { id: world.newId() });
  expect([again.statusCode, again.body.includes('is closed already')]).toEqual([409, true]);
  const owner = await web.signInByPage(business.emailOf('owner'), business.password);
  const silent = await owner.post('/office/month-close/2026-08/reopen', { id: world.newId(), reason: '' });
  expect([silent.statusCode, silent.body.includes('Write why it is opened again.')]).toEqual([422, true]);
  const headers = await web.signIn(business.emailOf('owner'), business.password);
  const opened = await web.app.inject({
    method: 'POST',
    url: '/api/v1/months/2026-08/reopen',
    headers,
    payload: { id: world.newId(), reason: 'a forgotten check' },
  });
  expect([opened.statusCode, opened.json()]).toMatchObject([200, { closed: false, month: '2026-08' }]);
});

test('the journal of a month as CSV has as much in debit as in credit', async () => {
  const business = await anAugust();
  const file = must(await exportLedger(world.services, business.bookkeeper, { month: '2026-08' }));
  const [header = '', ...rows] = file.text.trimEnd().split('\r\n');
  // The names of ledger accounts have commas, and so quotes.
  const cells = (row: string) => [...row.matchAll(/(?:^|,)("[^"]*"|[^,]*)/g)].map((match) => match[1] ?? '');
  const column = (name: string) =>
    rows.map((row) => Number(cells(row)[header.split(',').indexOf(name)] ?? 'none'));
  const sum = (name: string) => column(name).reduce((total, each) => total + Math.round(each * 100), 0);
  // Invoiced 284.90, received 100.00, applied 100.00.
  expect([sum('debit'), sum('credit')]).toEqual([48490, 48490]);
  expect(
    must(await exportLedger(world.services, business.bookkeeper, { month: '2026-09' })).text.trimEnd(),
  ).toBe(header);
});
