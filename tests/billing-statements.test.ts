import { instant } from '@grainwright/domain';
import {
  exportStatement,
  type InvoiceView,
  listInvoices,
  listPayments,
  listStatements,
  type PaymentView,
  readInvoice,
  readStatement,
} from '@grainwright/operations';
import fc from 'fast-check';
import postgres, { type Sql } from 'postgres';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { billingDesk, codeOf, tailgate } from './support/billing-desk.ts';
import { acceptedWork } from './support/billing-world.ts';
import { aBusiness, anAccount, type Business, must, openWorld, type World } from './support/world.ts';

let world: World;
let business: Business;
let desk: ReturnType<typeof billingDesk>;
let admin: Sql;

beforeAll(async () => {
  world = await openWorld();
  business = await aBusiness(world);
  desk = billingDesk(business);
  admin = postgres(world.adminUrl, { max: 1, onnotice: () => undefined });
});
afterAll(async () => {
  await admin.end({ timeout: 5 });
});

test('the database itself refuses an entry that does not balance, and any change to the ledger by the service', async () => {
  const invoice = await desk.issued(await anAccount(business));
  const entry = {
    tenant_id: business.tenantId,
    id: world.newId(),
    posting: 900_001,
    event: 'payment_received',
    occurred_on: '2026-08-05',
    currency: 'USD',
    posted_by: business.owner.personId,
    posted_at: instant('2026-08-05T12:00:00Z'),
  };
  const line = { tenant_id: business.tenantId, entry_id: entry.id, position: 1, ledger_account: 'bank' };
  const unbalanced = admin.begin(async (sql) => {
    await sql`insert into journal_entries ${sql(entry)}`;
    await sql`insert into journal_lines ${sql([
      { ...line, amount_minor: '100' },
      { ...line, position: 2, ledger_account: 'account_credit', amount_minor: '-99' },
    ])}`;
  });
  await expect(unbalanced).rejects.toThrow('does not balance');
  for (const change of [
    'update journal_lines set amount_minor = 1',
    'delete from journal_lines',
    'update journal_entries set occurred_on = current_date',
    'delete from journal_entries',
    'update invoices set total_minor = 1',
    'delete from payments',
    'truncate journal_lines',
  ])
    for (const role of ['staff', 'account', 'worker'])
      await expect(asRole(role, invoice.accountId, change), `${role}: ${change}`).rejects.toThrow(
        'permission denied',
      );
});

function asRole(role: string, accountId: string, statementText: string) {
  const login = postgres(world.loginUrl, { max: 1, onnotice: () => undefined });
  return login
    .begin(async (sql) => {
      await sql`select set_config('role', ${`grainwright_${role}`}, true), set_config('app.tenant_id', ${business.tenantId}, true), set_config('app.account_id', ${accountId}, true)`;
      await sql.unsafe(statementText);
    })
    .finally(() => login.end({ timeout: 5 }));
}

test('the statement of August opens at 0, charges and pays 284.90 and closes at 0', async () => {
  const account = await anAccount(business);
  const work = await acceptedWork(account, { codes: tailgate, replacement: '940.00' });
  const invoice = must(await desk.issue([work]));
  world.at('2026-08-20T16:00');
  must(await desk.pay({ account, amount: '284.90', on: '2026-08-20', for: [[invoice, '284.90']] }));
  const august = await desk.statement(account, '2026-08');
  world.at('2026-08-05T09:00');
  expect([
    august.openingMinor,
    august.chargesMinor,
    august.creditsMinor,
    august.paymentsMinor,
    august.closingMinor,
  ]).toEqual([0n, 28490n, 0n, 28490n, 0n]);
  expect(august.rows.map((row) => [row.on, row.words, row.document, row.amountMinor])).toEqual([
    ['2026-08-05', 'Invoice', invoice.number, 28490n],
    ['2026-08-20', 'Payment by check', '1044', -28490n],
  ]);
  expect(august.aging.items).toEqual([]);
  expect(august.replacement).toEqual({ vehicles: 1, quotedMinor: 94000n, repairsMinor: 23843n });
});

test('a month that still runs is told up to today, so that nothing is overdue on a day that has not come', async () => {
  const account = await anAccount(business, { termsDays: 15 });
  world.at('2026-08-05T09:00');
  await desk.issued(account);
  world.at('2026-08-20T09:00');
  const due = await desk.statement(account, '2026-08');
  expect([due.to, due.aging.buckets.current, due.aging.items.map((item) => item.daysPastDue)]).toEqual([
    '2026-08-20',
    28490n,
    [0],
  ]);
  world.at('2026-09-02T09:00');
  const over = await desk.statement(account, '2026-08');
  expect([over.to, over.aging.buckets.days_1_30, over.aging.items.map((item) => item.daysPastDue)]).toEqual([
    '2026-08-31',
    28490n,
    [11],
  ]);
  world.at('2026-08-05T09:00');
});

test('the list of months has the figures of their statements, back to the first posting and two years at most', async () => {
  const account = await anAccount(business, { openedOn: '2023-06-01' });
  world.at('2023-06-10T09:00');
  must(await desk.pay({ account, amount: '284.90', on: '2023-06-10' }));
  world.at('2026-07-31T23:30');
  must(await desk.pay({ account, amount: '100.00', on: '2026-07-31' }));
  world.at('2026-08-01T00:30');
  await desk.issued(account);
  must(await desk.pay({ account, amount: '50.00', on: '2026-07-30' }));
  const list = must(await listStatements(world.services, account.payer, account.id));
  expect(list.months.map((each) => each.month).slice(0, 2)).toEqual(['2026-08', '2026-07']);
  expect([list.months.length, list.months.at(-1)?.month]).toEqual([24, '2024-09']);
  // 284.90 received in 2023 and not used; 150.00 received in July; 284.90 invoiced in August.
  expect(list.months.slice(0, 3)).toEqual([
    figures('2026-08', -43490n, 28490n, 0n, -15000n),
    figures('2026-07', -28490n, 0n, 15000n, -43490n),
    figures('2026-06', -28490n, 0n, 0n, -28490n),
  ]);
  for (const { issuedAt: _notIssued, ...month } of list.months.slice(0, 3))
    expect(await desk.statement(account, month.month)).toMatchObject(month);
  world.at('2026-08-05T09:00');
  const fresh = await anAccount(business);
  await desk.issued(fresh);
  const first = must(await listStatements(world.services, business.bookkeeper, fresh.id));
  expect(first.months).toEqual([figures('2026-08', 0n, 28490n, 0n, 28490n)]);
  const stranger = await listStatements(world.services, fresh.payer, account.id);
  expect(codeOf(stranger)).toBe('not_found');
});

function figures(month: string, opening: bigint, charges: bigint, payments: bigint, closing: bigint) {
  return {
    month,
    openingMinor: opening,
    chargesMinor: charges,
    creditsMinor: 0n,
    paymentsMinor: payments,
    closingMinor: closing,
    issuedAt: null,
  };
}

test('the statement as CSV has the figures of the screen', async () => {
  const account = await anAccount(business, { name: '=Glass, "Screen" & Sons' });
  await desk.issued(account);
  must(await desk.pay({ account, amount: '100.00' }));
  world.at('2026-09-02T09:00');
  const shown = await desk.statement(account, '2026-08');
  const file = must(
    await exportStatement(world.services, account.payer, { accountId: account.id, month: '2026-08' }),
  );
  const rows = file.text.split('\r\n');
  const amounts = (section: string) =>
    rows.filter((row) => row.includes(`,${section},`)).map((row) => row.split(',').at(-2));
  expect(shown).toMatchObject({
    openingMinor: 0n,
    chargesMinor: 28490n,
    paymentsMinor: 10000n,
    closingMinor: 18490n,
  });
  expect(
    ['opening_balance', 'total_charges', 'total_credits', 'total_payments', 'closing_balance'].flatMap(
      amounts,
    ),
  ).toEqual(['0.00', '284.90', '0.00', '-100.00', '184.90']);
  expect([
    amounts('charge'),
    amounts('payment'),
    amounts('open_item'),
    amounts('aging_days_1_30'),
    amounts('unapplied_credit'),
  ]).toEqual([['284.90'], ['-100.00'], ['284.90'], ['284.90'], ['-100.00']]);
  expect(rows[1]?.startsWith(`"'=Glass, ""Screen"" & Sons",2026-08,`)).toBe(true);
  world.at('2026-08-05T09:00');
});

test('a contact sees the own account’s invoices and statements and nobody else’s', async () => {
  const account = await anAccount(business);
  const invoice = await desk.issued(account);
  must(await desk.pay({ account, amount: '5.00', for: [[invoice, '5.00']] }));
  const stranger = await anAccount(business);
  const mine = { accountId: account.id, month: '2026-08' };
  expect(must(await readInvoice(world.services, account.viewer, invoice.id)).openMinor).toBe(27990n);
  expect(must(await readStatement(world.services, account.viewer, mine)).closingMinor).toBe(27990n);
  expect(
    must(await listPayments(world.services, account.payer, { accountId: null, before: null })).rows,
  ).toHaveLength(1);
  expect(codeOf(await readInvoice(world.services, stranger.payer, invoice.id))).toBe('not_found');
  expect(codeOf(await readStatement(world.services, stranger.payer, mine))).toBe('not_found');
  const all = { accountId: null, openOnly: false, past: null };
  expect(must(await listInvoices(world.services, stranger.payer, all)).rows).toEqual([]);
  expect(codeOf(await listInvoices(world.services, business.technician, all))).toBe('not_allowed');
});

test('whatever is issued, paid and applied in whatever order, every statement holds and the books balance', async () => {
  const step = fc.record({
    does: fc.constantFrom('issue', 'pay', 'apply'),
    daysOn: fc.nat(20),
    cents: fc.bigInt({ min: 1n, max: 30_000n }),
    pick: fc.nat(20),
  });
  await fc.assert(
    fc.asyncProperty(fc.array(step, { minLength: 4, maxLength: 12 }), async (steps) => {
      const account = await anAccount(business);
      const invoices: InvoiceView[] = [];
      const payments: PaymentView[] = [];
      let on = new Date('2026-08-05T15:00:00Z');
      for (const { does, daysOn, cents, pick } of steps) {
        on = new Date(on.getTime() + daysOn * 86_400_000);
        const today = on.toISOString().slice(0, 10);
        world.at(`${today}T10:00`);
        const amount = `${cents / 100n}.${(cents % 100n).toString().padStart(2, '0')}`;
        const invoice = invoices[pick % Math.max(1, invoices.length)];
        const payment = payments[pick % Math.max(1, payments.length)];
        if (does === 'issue') invoices.push(await desk.issued(account));
        if (does === 'pay') payments.push(must(await desk.pay({ account, amount, on: today })));
        if (does === 'apply' && invoice && payment)
          expect(['ok', 'over_payment']).toContain(codeOf(await desk.apply(payment, invoice, amount)));
      }
      let closed = 0n;
      for (
        let month = 8;
        `2026-${String(month).padStart(2, '0')}` <= on.toISOString().slice(0, 7);
        month += 1
      ) {
        const view = await desk.statement(account, `2026-${String(month).padStart(2, '0')}`);
        expect(view.openingMinor).toBe(closed);
        expect(view.openingMinor + view.chargesMinor - view.creditsMinor - view.paymentsMinor).toBe(
          view.closingMinor,
        );
        expect(view.aging.balanceMinor).toBe(view.closingMinor);
        closed = view.closingMinor;
      }
      const owed =
        invoices.length * 28490 - payments.reduce((sum, each) => sum + Number(each.amountMinor), 0);
      expect(closed).toBe(BigInt(owed));
    }),
    { numRuns: 5 },
  );
  expect(await desk.faults()).toEqual([]);
  world.at('2026-08-05T09:00');
});

test('the check of the books finds a balance that is not the sum of the ledger, and a number that is missing', async () => {
  const other = await aBusiness(world);
  const account = await anAccount(other);
  const { issued, pay, faults } = billingDesk(other);
  const invoice = await issued(account);
  const payment = must(await pay({ account, amount: '20.00' }));
  expect(await faults()).toEqual([]);
  await admin`update invoice_balances set open_minor = open_minor - 1 where invoice_id = ${invoice.id}`;
  await admin`update payment_balances set unapplied_minor = unapplied_minor + 1 where payment_id = ${payment.id}`;
  await admin`update document_numbers set next = next + 1 where tenant_id = ${other.tenantId} and kind = 'invoice'`;
  expect(await faults()).toEqual([
    `${invoice.number} open: 28489 instead of 28490`,
    `payment ${payment.id}: 2001 instead of 2000`,
    `payment ${payment.id} in all: 2001 instead of 2000`,
    'invoice: 1 instead of 2',
  ]);
});
