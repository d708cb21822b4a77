import type { DisputeId } from '@grainwright/domain';
import {
  type AgingView,
  exportAging,
  openDispute,
  readAccountAging,
  readAging,
} from '@grainwright/operations';
import postgres, { type Sql } from 'postgres';
import { afterAll, beforeAll, beforeEach, expect, test } from 'vitest';
import { billingDesk, codeOf } from './support/billing-desk.ts';
import { openWeb } from './support/web.ts';
import {
  type Account,
  aBusiness,
  anAccount,
  type Business,
  type BusinessOptions,
  must,
  openWorld,
  type World,
} from './support/world.ts';

let world: World;
let admin: Sql;

beforeAll(async () => {
  world = await openWorld();
  admin = postgres(world.adminUrl, { max: 1, onnotice: () => undefined });
});
afterAll(() => admin.end({ timeout: 5 }));
beforeEach(() => world.at('2026-08-05T09:00'));

async function agingOn({ bookkeeper }: Business, asOf: string | null): Promise<AgingView> {
  return must(await readAging(world.services, bookkeeper, { asOf, after: null }));
}

function figuresOf(aging: AgingView, account: Account): readonly bigint[] | undefined {
  const row = aging.accounts.find((each) => each.accountId === account.id);
  return row && [...Object.values(row.buckets), row.unappliedMinor, row.balanceMinor, row.disputedMinor];
}

/** An invoice of 284.90 on 2026-08-05, due 2026-08-20, the agreed demo figures; 100.00 of it paid on 2026-08-25. */
async function anAugust(options: BusinessOptions = {}) {
  const business = await aBusiness(world, options);
  const account = await anAccount(business);
  const desk = billingDesk(business);
  const invoice = await desk.issued(account);
  world.at('2026-11-25T09:00');
  must(await desk.pay({ account, amount: '100.00', on: '2026-08-25', for: [[invoice, '100.00']] }));
  return { business, account, invoice, desk };
}

test('what is owed ages from the due date, and the same day asked for later gives the same answer', async () => {
  const { business, account, invoice, desk } = await anAugust();
  const none = [0n, 0n, 0n];
  const expected = {
    '2026-08-04': undefined,
    '2026-08-20': [28490n, 0n, 0n, 0n, 0n, ...none],
    '2026-08-25': [0n, 18490n, 0n, 0n, 0n, ...none],
    '2026-09-20': [0n, 0n, 18490n, 0n, 0n, ...none],
    '2026-10-20': [0n, 0n, 0n, 18490n, 0n, ...none],
    '2026-11-19': [0n, 0n, 0n, 0n, 18490n, ...none],
  };
  for (let round = 0; round < 2; round += 1) {
    for (const [asOf, figures] of Object.entries(expected)) {
      const owed = figuresOf(await agingOn(business, asOf), account);
      // The buckets come to the balance.
      const balance = figures?.slice(0, 5).reduce((sum, each) => sum + each, 0n);
      expect([asOf, owed]).toEqual([asOf, figures?.with(6, balance ?? 0n)]);
    }
    // What happens afterwards changes nothing of it.
    if (round === 0)
      must(await desk.pay({ account, amount: '184.90', on: '2026-11-25', for: [[invoice, '184.90']] }));
  }
  expect((await agingOn(business, null)).accounts).toEqual([]);
});

test('a business that ages from the date of the document has it older by the days to pay', async () => {
  const { business, account } = await anAugust({ agingBasis: 'document_date' });
  expect(figuresOf(await agingOn(business, '2026-08-25'), account)?.slice(0, 2)).toEqual([0n, 18490n]);
  expect(figuresOf(await agingOn(business, '2026-09-05'), account)?.slice(1, 3)).toEqual([0n, 18490n]);
});

test('unapplied credit stands apart as a negative amount, and all of it comes to the ledger', async () => {
  const { business, account, desk } = await anAugust();
  const overpaid = await anAccount(business, { name: 'Brackwater, overpaid' });
  must(await desk.pay({ account: overpaid, amount: '123.22', on: '2026-10-16' }));
  const aging = await agingOn(business, '2026-10-31');
  expect(figuresOf(aging, overpaid)).toEqual([0n, 0n, 0n, 0n, 0n, -12322n, -12322n, 0n]);
  expect(figuresOf(aging, account)?.at(6)).toBe(18490n);
  expect([aging.total.balanceMinor, aging.total.unappliedMinor, aging.ledgerMinor]).toEqual([
    6168n,
    -12322n,
    6168n,
  ]);
});

test('an amount in dispute is shown while it waits for an answer, and stays in the aging', async () => {
  const { business, account, invoice } = await anAugust();
  const dispute = {
    disputeId: world.newId<DisputeId>(),
    invoiceId: invoice.id,
    lineId: null,
    amount: '45.00',
    reason: 'disputed',
    note: 'no trip was agreed',
    on: '2026-09-10',
  };
  must(await openDispute(world.services, business.bookkeeper, dispute));
  expect(figuresOf(await agingOn(business, '2026-09-09'), account)?.at(7)).toBe(0n);
  expect(figuresOf(await agingOn(business, '2026-09-10'), account)?.slice(5)).toEqual([0n, 18490n, 4500n]);
});

test('the way down leads from an account to its documents', async () => {
  const { business, account, invoice } = await anAugust();
  const view = must(
    await readAccountAging(world.services, business.bookkeeper, {
      accountId: account.id,
      asOf: '2026-09-19',
    }),
  );
  expect(view.items).toMatchObject([
    {
      invoiceId: invoice.id,
      number: invoice.number,
      openMinor: 18490n,
      daysPastDue: 30,
      bucket: 'days_1_30',
    },
  ]);
  expect([view.balanceMinor, view.buckets.days_1_30]).toEqual([18490n, 18490n]);
});

test('a day that is still to come is refused at its field, and an account’s contact has no aging of all', async () => {
  const { business, account } = await anAugust();
  const late = await readAging(world.services, business.bookkeeper, { asOf: '2026-11-26', after: null });
  expect(late.ok ? 'ok' : [late.problem.code, late.problem.field]).toEqual(['invalid_date', 'as_of']);
  const asked = { asOf: null, after: null };
  expect(codeOf(await readAging(world.services, account.payer, asked))).toBe('not_allowed');
  expect(codeOf(await readAging(world.services, business.technician, asked))).toBe('not_allowed');
});

test('300 accounts are paged with the total of all, and a spreadsheet has every one', async () => {
  const { business, account } = await anAugust();
  await admin.begin(async (sql) => {
    await sql`insert into accounts (tenant_id, id, short_name, name, kind, tier_code, tax_area_id, terms_days,
        statement_kind, invoice_rule, acceptance_rule, photo_rule, opened_on)
      select tenant_id, gen_random_uuid(), 'X' || n, 'Lot ' || lpad(n::text, 3, '0'), kind, tier_code, tax_area_id,
        terms_days, statement_kind, invoice_rule, acceptance_rule, photo_rule, opened_on
      from accounts, generate_series(1, 300) n where id = ${account.id}`;
    const [entry] =
      await sql`insert into journal_entries (tenant_id, id, posting, event, occurred_on, currency,
        posted_by, posted_at)
      values (${business.tenantId}, gen_random_uuid(), 1000, 'opening_balance', '2026-08-06', 'USD',
        ${business.owner.personId}, now()) returning id`;
    await sql`insert into journal_lines (tenant_id, entry_id, position, ledger_account, amount_minor, account_id)
      select tenant_id, ${String(entry?.id)}::uuid, row_number() over (), 'account_credit', -100, id
      from accounts where tenant_id = ${business.tenantId} and short_name like 'X%'
      union all select ${business.tenantId}::uuid, ${String(entry?.id)}::uuid, 999, 'opening_equity', 30000, null`;
  });
  const first = await agingOn(business, '2026-08-31');
  const { next } = first;
  const second = must(
    await readAging(world.services, business.bookkeeper, { asOf: '2026-08-31', after: next }),
  );
  expect([first.accountsInAll, first.accounts.length, second.accounts.length, second.next]).toEqual([
    301,
    250,
    51,
    null,
  ]);
  expect(new Set([...first.accounts, ...second.accounts].map((each) => each.accountId)).size).toBe(301);
  expect([first.total.unappliedMinor, second.total.unappliedMinor]).toEqual([-30000n, -30000n]);
  const file = must(await exportAging(world.services, business.bookkeeper, { asOf: '2026-08-31' }));
  const rows = file.text.trimEnd().split('\r\n');
  expect([rows.length, rows.at(-1)]).toEqual([
    303,
    '2026-08-31,total,Total,0.00,184.90,0.00,0.00,0.00,-300.00,-115.10,0.00,USD',
  ]);
});

test('the page has every figure, bars and the ways down, the API the same as text', async () => {
  const { business, account, invoice } = await anAugust();
  const web = await openWeb(world);
  const headers = await web.signIn(business.emailOf('bookkeeper'), business.password);
  const browser = await web.signInByPage(business.emailOf('bookkeeper'), business.password);
  const answer = await web.app.inject({ url: '/api/v1/reports/aging?as_of=2026-08-31', headers });
  expect(answer.json()).toMatchObject({
    as_of: '2026-08-31',
    total: { balance: '184.90', buckets: { days_1_30: '184.90' } },
    ledger: '184.90',
    accounts: [{ id: account.id }],
  });
  const page = await browser.get('/office/aging?as_of=2026-08-31');
  expect(page.statusCode).toBe(200);
  for (const part of [
    `/office/aging/${account.id}?as_of=2026-08-31`,
    '/office/aging.csv?as_of=2026-08-31',
    '<svg class="age-strip"',
    'Ties out',
    '$184.90',
  ])
    expect(page.body).toContain(part);
  const down = await browser.get(`/office/aging/${account.id}?as_of=2026-08-31`);
  expect(down.body).toContain(`/office/invoices/${invoice.id}`);
  const wrong = await browser.get('/office/aging?as_of=2027-01-01');
  expect([wrong.statusCode, wrong.body.includes('value="2027-01-01"')]).toEqual([422, true]);
});
