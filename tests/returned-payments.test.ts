import type {
  ApplicationId,
  CreditMoveId,
  InvoiceId,
  PaymentId,
  RefundId,
  Result,
  ReturnId,
  UnapplicationId,
  WorkOrderId,
} from '@grainwright/domain';
import { formatMinor } from '@grainwright/domain';
import {
  assignReceipt,
  type InvoiceView,
  moveCredit,
  readInvoice,
  refundCredit,
  unapplyPayment,
} from '@grainwright/operations';
import postgres, { type Sql } from 'postgres';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { billingDesk, codeOf } from './support/billing-desk.ts';
import { acceptedWork } from './support/billing-world.ts';
import { receiptsDesk } from './support/receipts-desk.ts';
import { whileHeld } from './support/while-held.ts';
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
let business: Business;
let desk: ReturnType<typeof billingDesk>;
let receipts: ReturnType<typeof receiptsDesk>;
let admin: Sql;

beforeAll(async () => {
  world = await openWorld();
  business = await aBusiness(world);
  desk = billingDesk(business);
  receipts = receiptsDesk(business);
  admin = postgres(world.adminUrl, { max: 1, onnotice: () => undefined });
});
afterAll(() => admin.end({ timeout: 5 }));

async function stateOf(id: WorkOrderId): Promise<string> {
  const [row] = await admin`select state from work_orders where id = ${id}`;
  return String(row?.state);
}

/** The entries that a payment made, in the order they were posted. */
async function postedBy(paymentId: string): Promise<readonly string[]> {
  const rows =
    await admin`select distinct e.posting, e.event, e.occurred_on::text as day from journal_entries e
    join journal_lines l on l.tenant_id = e.tenant_id and l.entry_id = e.id
    where l.payment_id = ${paymentId} order by e.posting`;
  return rows.map((row) => `${row.day} ${row.event}`);
}

// The agreed demo figures: INV-2005 of 330.69, of which 120.00 was a deposit; the check of 210.69 came back.
test('the retail job’s check is returned a week later, the invoice is open again, and a card settles it', async () => {
  const account = await anAccount(business, {
    name: 'Retail, walk-in',
    kind: 'retail',
    tierCode: 'retail',
    taxAreaCode: 'B',
    termsDays: 0,
    walkIn: true,
    limit: null,
  });
  world.at('2026-08-10T09:00');
  must(await receipts.deposit(account, '120.00', { on: '2026-08-10' }));
  world.at('2026-08-12T09:00');
  const work = await acceptedWork(account, { codes: ['LT-M', 'SC-S'] });
  const invoice = must(await desk.issue([work]));
  const check = must(
    await desk.pay({ account, amount: '210.69', on: '2026-08-12', for: [[invoice, '210.69']] }),
  );
  expect([(await desk.reread(invoice)).openMinor, await stateOf(work.id)]).toEqual([0n, 'paid']);
  world.at('2026-08-19T09:00');
  const returned = must(await receipts.comesBack(check, { on: '2026-08-19' }));
  expect(returned).toMatchObject({ state: 'returned', returnedOn: '2026-08-19', unappliedMinor: 0n });
  expect(await desk.reread(invoice)).toMatchObject({ openMinor: 21069n, dueOn: '2026-08-12' });
  expect(await stateOf(work.id)).toBe('invoiced');
  expect(await postedBy(check.id)).toEqual([
    '2026-08-12 payment_received',
    '2026-08-12 payment_applied',
    '2026-08-19 payment_unapplied',
    '2026-08-19 payment_returned',
  ]);
  const [aged] = (await desk.statement(account, '2026-08')).aging.items;
  expect(aged).toMatchObject({ number: invoice.number, dueOn: '2026-08-12', daysPastDue: 7 });
  world.at('2026-08-24T09:00');
  must(
    await desk.pay({
      account,
      amount: '210.69',
      method: 'card',
      on: '2026-08-24',
      for: [[invoice, '210.69']],
    }),
  );
  expect([(await desk.reread(invoice)).openMinor, await stateOf(work.id)]).toEqual([0n, 'paid']);
  const { openingMinor, chargesMinor, paymentsMinor, closingMinor } = await desk.statement(
    account,
    '2026-08',
  );
  expect([openingMinor, chargesMinor, paymentsMinor, closingMinor]).toEqual([0n, 33069n, 33069n, 0n]);
  expect(await desk.faults()).toEqual([]);
});

test('a fee for a returned payment is a document of its own, due at once, and paid like an invoice', async () => {
  const { account, invoice, payment } = await paid();
  must(await receipts.comesBack(payment, { on: '2026-08-24', fee: '25.00' }));
  const [fee] = await admin<{ id: InvoiceId; number: string; kind: string; subject: string; due: string }[]>`
    select id, number, kind, subject, due_on::text as due from invoices
    where account_id = ${account.id} and kind <> 'invoice'`;
  expect(fee).toMatchObject({ number: 'FEE-1', kind: 'return_fee', due: '2026-08-24' });
  expect(fee?.subject).toContain('$284.90');
  const document = must(
    await readInvoice(world.services, business.bookkeeper, fee?.id ?? world.newId<InvoiceId>()),
  );
  const both = must(
    await desk.pay({
      account,
      amount: '309.90',
      on: '2026-08-24',
      for: [
        [invoice, '284.90'],
        [document, '25.00'],
      ],
    }),
  );
  expect(both.unappliedMinor).toBe(0n);
  const { chargesMinor, paymentsMinor, closingMinor } = await desk.statement(account, '2026-08');
  expect([chargesMinor, paymentsMinor, closingMinor]).toEqual([30990n, 30990n, 0n]);
  expect(await desk.faults()).toEqual([]);
});

test('what came back is neither applied, paid back nor returned again', async () => {
  const { account, invoice, payment } = await paid();
  const id = world.newId<ReturnId>();
  const first = must(await receipts.comesBack(payment, { on: '2026-08-24', id }));
  expect(must(await receipts.comesBack(payment, { on: '2026-08-24', id }))).toEqual(first);
  expect(codeOf(await receipts.comesBack(payment, { on: '2026-08-24', id, reason: 'closed' }))).toBe(
    'id_reused',
  );
  expect(codeOf(await receipts.comesBack(payment, { on: '2026-08-24' }))).toBe('wrong_state');
  expect(codeOf(await desk.apply(payment, invoice, '1.00'))).toBe('over_payment');
  expect(codeOf(await receipts.giveBack(payment, '1.00'))).toBe('over_payment');
  expect((await desk.statement(account, '2026-08')).closingMinor).toBe(28490n);
});

test('nothing comes back before it came, before it was applied, or on a day that is still to come', async () => {
  const { payment } = await paid();
  expect(codeOf(await receipts.comesBack(payment, { on: '2026-08-04' }))).toBe('dates_out_of_order');
  expect(codeOf(await receipts.comesBack(payment, { on: '2026-08-23' }))).toBe('dates_out_of_order');
  expect(codeOf(await receipts.comesBack(payment, { on: '2026-08-25' }))).toBe('dates_out_of_order');
});

test('many who send the return of one payment at once return it once', async () => {
  const { account, payment } = await paid();
  const id = world.newId<ReturnId>();
  const same = await Promise.all(
    Array.from({ length: 8 }, () => receipts.comesBack(payment, { on: '2026-08-24', id })),
  );
  expect(same.map(codeOf)).toEqual(Array(8).fill('ok'));
  const other = await paid();
  const each = await Promise.all(
    Array.from({ length: 8 }, () => receipts.comesBack(other.payment, { on: '2026-08-24', fee: '10.00' })),
  );
  expect(each.map(codeOf).filter((code) => code === 'ok')).toHaveLength(1);
  expect(each.map(codeOf).filter((code) => code !== 'ok')).toEqual(Array(7).fill('wrong_state'));
  expect((await desk.statement(account, '2026-08')).closingMinor).toBe(28490n);
  expect((await desk.statement(other.account, '2026-08')).closingMinor).toBe(29490n);
  expect(await desk.faults()).toEqual([]);
});

test('whoever applies a payment while it is returned comes before or too late; the books hold either way', async () => {
  for (let round = 0; round < 5; round += 1) {
    const account = await anAccount(business);
    const invoices = [await desk.issued(account), await desk.issued(account)];
    const payment = must(await desk.pay({ account, amount: '200.00', on: '2026-08-24' }));
    const applying = invoices.flatMap((invoice) => [
      desk.apply(payment, invoice, '50.00'),
      desk.apply(payment, invoice, '50.00'),
    ]);
    const [returned, ...applied] = await Promise.all([
      receipts.comesBack(payment, { on: '2026-08-24' }),
      ...applying,
    ]);
    expect(codeOf(returned)).toBe('ok');
    expect(applied.map(codeOf).filter((code) => code !== 'ok' && code !== 'over_payment')).toEqual([]);
    for (const invoice of invoices) expect((await desk.reread(invoice)).openMinor).toBe(28490n);
  }
  expect(await desk.faults()).toEqual([]);
});

test('a return that waits for a work order holds no running number of the fees meanwhile', async () => {
  const account = await anAccount(business);
  const work = await acceptedWork(account, { codes: ['KF-1'] });
  const invoice = must(await desk.issue([work]));
  const whole = formatMinor(invoice.totalMinor);
  const payment = must(await desk.pay({ account, amount: whole, for: [[invoice, whole]] }));
  const back = await whileHeld(
    world,
    (sql) => sql`select from work_orders where id = ${work.id} for update`,
    () => receipts.comesBack(payment, { on: '2026-08-24', fee: '25.00' }),
    async (sql) =>
      expect(
        await sql`select kind from document_numbers where tenant_id = ${business.tenantId} and kind = 'fee'
          for update skip locked`,
      ).toHaveLength(1),
  );
  expect([back.waited, must(back.value).state]).toEqual([true, 'returned']);
  expect(await desk.faults()).toEqual([]);
});

test('one application is taken off with a reason: the invoice is open again and the money is credit', async () => {
  const { account, invoice, payment } = await paid();
  const [application] = payment.applications;
  const id = world.newId<UnapplicationId>();
  const taken = must(await receipts.takeOff(payment, application?.id, { id }));
  expect(taken).toMatchObject({
    state: 'received',
    unappliedMinor: 28490n,
    applications: [{ unappliedOn: '2026-08-24', unappliedReason: 'meant for another invoice' }],
  });
  expect(must(await receipts.takeOff(payment, application?.id, { id }))).toEqual(taken);
  expect(codeOf(await receipts.takeOff(payment, application?.id))).toBe('wrong_state');
  expect(codeOf(await receipts.takeOff(payment, application?.id, { reason: ' ' }))).toBe('invalid_input');
  expect(await desk.reread(invoice)).toMatchObject({ openMinor: 28490n, settledBy: [] });
  const other = await desk.issued(account);
  must(await desk.apply(payment, other, '284.90'));
  expect((await desk.reread(other)).openMinor).toBe(0n);
  expect(await desk.faults()).toEqual([]);
});

test('taken off by many at once it is taken off once', async () => {
  const { payment } = await paid();
  const [application] = payment.applications;
  const answers = await Promise.all(
    Array.from({ length: 6 }, () => receipts.takeOff(payment, application?.id)),
  );
  expect(answers.map(codeOf).toSorted()).toEqual(['ok', ...Array(5).fill('wrong_state')]);
  expect((await receipts.reread(payment)).unappliedMinor).toBe(28490n);
});

test('the same id for another day is something else, and without a day it is the same', async () => {
  const { services } = world;
  const { bookkeeper } = business;
  const [account, other] = [await anAccount(business), await anAccount(business)];
  const group = world.newId();
  await admin`insert into account_groups (tenant_id, id, name) values (${business.tenantId}, ${group}, 'days')`;
  await admin`update accounts set group_id = ${group} where id in (${account.id}, ${other.id})`;
  const payment = must(await desk.pay({ account, amount: '90.00', on: '2026-08-05' }));
  const applied = await paid();
  const { id: receiptId } = must(await receipts.park('88.40'));
  const from = { paymentId: payment.id };
  const refund = { refundId: world.newId<RefundId>(), from, amount: '10.00', method: 'check', reference: '' };
  const move = { moveId: world.newId<CreditMoveId>(), from, toAccountId: other.id, amount: '10.00' };
  const assign = { receiptId, accountId: account.id, paymentId: world.newId<PaymentId>() };
  const applicationId = applied.payment.applications[0]?.id ?? world.newId<ApplicationId>();
  const unapplicationId = world.newId<UnapplicationId>();
  const off = { unapplicationId, paymentId: applied.payment.id, applicationId, reason: 'another invoice' };
  world.at('2026-08-26T09:00');
  const doings: readonly ((on: string | null) => Promise<Result<unknown>>)[] = [
    (on) => refundCredit(services, bookkeeper, { ...refund, on }),
    (on) => moveCredit(services, bookkeeper, { ...move, on }),
    (on) => assignReceipt(services, bookkeeper, { ...assign, on }),
    (on) => unapplyPayment(services, bookkeeper, { ...off, on }),
  ];
  for (const doing of doings)
    expect([
      codeOf(await doing('2026-08-25')),
      codeOf(await doing('2026-08-25')),
      codeOf(await doing(null)),
      codeOf(await doing('2026-08-26')),
    ]).toEqual(['ok', 'ok', 'ok', 'id_reused']);
  world.at('2026-08-24T09:00');
});

/** An invoice of 284.90 of 2026-08-24, paid by a check of that day. */
async function paid(): Promise<{
  readonly account: Account;
  readonly invoice: InvoiceView;
  readonly payment: Awaited<ReturnType<typeof receipts.reread>>;
}> {
  const account = await anAccount(business);
  const invoice = await desk.issued(account);
  const payment = must(await desk.pay({ account, amount: '284.90', for: [[invoice, '284.90']] }));
  return { account, invoice, payment };
}
