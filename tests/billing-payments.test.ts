import type { ApplicationId, PaymentId, WorkOrderId } from '@grainwright/domain';
import postgres, { type Sql } from 'postgres';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { billingDesk, codeOf, type Paying, tailgate } from './support/billing-desk.ts';
import { acceptedWork } from './support/billing-world.ts';
import { whileHeld } from './support/while-held.ts';
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

async function stateOf(id: WorkOrderId): Promise<string> {
  const [row] = await admin`select state from work_orders where id = ${id}`;
  return String(row?.state);
}

test('a payment of the whole amount settles the invoice and its work order', async () => {
  const account = await anAccount(business);
  const work = await acceptedWork(account, { codes: tailgate });
  const invoice = must(await desk.issue([work]));
  const payment = must(await desk.pay({ account, amount: '284.90', for: [[invoice, '284.90']] }));
  expect(payment.unappliedMinor).toBe(0n);
  expect(await desk.reread(invoice)).toMatchObject({ openMinor: 0n, paidMinor: 28490n });
  expect(await stateOf(work.id)).toBe('paid');
});

test('a card payment waits in clearing for the processor; every other one is at the bank', async () => {
  const account = await anAccount(business);
  const held = [];
  for (const method of ['card', 'check', 'ach', 'cash']) {
    const { id } = must(await desk.pay({ account, amount: '10.00', method }));
    const [line] =
      await admin`select ledger_account from journal_lines where payment_id = ${id} and amount_minor > 0`;
    held.push([method, line?.ledger_account]);
  }
  // Common practice, no source; as docs/ledger.md has it.
  expect(held).toEqual([
    ['card', 'clearing'],
    ['check', 'bank'],
    ['ach', 'bank'],
    ['cash', 'bank'],
  ]);
});

test('a part payment leaves the rest open, and what is too much stays account credit', async () => {
  const account = await anAccount(business);
  const invoice = await desk.issued(account);
  must(await desk.pay({ account, amount: '$100.00', for: [[invoice, '100.00']] }));
  expect(await desk.reread(invoice)).toMatchObject({ openMinor: 18490n, paidMinor: 10000n });
  const refused = await desk.pay({ account, amount: '200.00', for: [[invoice, '200.00']] });
  expect(codeOf(refused)).toBe('over_payment');
  expect(refused.ok ? null : [refused.problem.field, refused.problem.detail]).toEqual([
    'applications.0.amount',
    expect.stringContaining('$184.90'),
  ]);
  const payment = must(await desk.pay({ account, amount: '200.00', for: [[invoice, '184.90']] }));
  expect(payment.unappliedMinor).toBe(1510n);
  const { aging, closingMinor } = await desk.statement(account, '2026-08');
  expect([aging.unappliedMinor, closingMinor]).toEqual([-1510n, -1510n]);
});

test('an application refused leaves no trace of its payment', async () => {
  const account = await anAccount(business);
  const invoice = await desk.issued(account);
  const id = world.newId<PaymentId>();
  expect(codeOf(await desk.pay({ account, amount: '10.00', id, for: [[invoice, '11.00']] }))).toBe(
    'over_payment',
  );
  expect(
    must(await desk.pay({ account, amount: '10.00', id, for: [[invoice, '10.00']] })).unappliedMinor,
  ).toBe(0n);
});

test('money for an invoice of another account is refused', async () => {
  const invoice = await desk.issued(await anAccount(business));
  const stranger = await anAccount(business);
  expect(codeOf(await desk.pay({ account: stranger, amount: '10.00', for: [[invoice, '10.00']] }))).toBe(
    'not_found',
  );
  const payment = must(await desk.pay({ account: stranger, amount: '10.00' }));
  expect(codeOf(await desk.apply(payment, invoice, '10.00'))).toBe('not_found');
});

test('a payment sent twice is one payment; with another amount, day or invoice it is refused', async () => {
  const account = await anAccount(business);
  const invoice = await desk.issued(account);
  const id = world.newId<PaymentId>();
  const sent: Paying = { account, amount: '50.00', id, for: [[invoice, '20.00']] };
  const [first, second] = await Promise.all([desk.pay(sent), desk.pay(sent)]);
  expect(must(second)).toEqual(must(first));
  expect(codeOf(await desk.pay({ ...sent, amount: '51.00' }))).toBe('id_reused');
  expect(codeOf(await desk.pay({ ...sent, on: '2026-08-04' }))).toBe('id_reused');
  expect(codeOf(await desk.pay({ ...sent, for: [] }))).toBe('id_reused');
  expect((await desk.statement(account, '2026-08')).paymentsMinor).toBe(5000n);
});

test('the same payment sent many times at once is one payment, and every sender is told so', async () => {
  const account = await anAccount(business);
  for (let round = 0; round < 10; round += 1) {
    const sent: Paying = { account, amount: '5.00', id: world.newId<PaymentId>() };
    const answers = await Promise.all(Array.from({ length: 8 }, () => desk.pay(sent)));
    expect(new Set(answers.map((answer) => must(answer).id))).toEqual(new Set([sent.id]));
  }
  expect((await desk.statement(account, '2026-08')).paymentsMinor).toBe(5000n);
});

test('money is received between the day the account was opened and today', async () => {
  const account = await anAccount(business, { openedOn: '2026-08-01' });
  expect(codeOf(await desk.pay({ account, amount: '1.00', on: '2026-08-06' }))).toBe('dates_out_of_order');
  expect(codeOf(await desk.pay({ account, amount: '1.00', on: '2026-07-31' }))).toBe('dates_out_of_order');
  expect(codeOf(await desk.pay({ account, amount: '1.00', on: '2026-02-30' }))).toBe('invalid_date');
  expect(codeOf(await desk.pay({ account, amount: '0.00' }))).toBe('invalid_money');
  expect(codeOf(await desk.pay({ account, amount: '1.005' }))).toBe('invalid_money');
});

test('sixteen at once who apply 250.00 to an invoice of 100.00 apply exactly 100.00', async () => {
  const account = await anAccount(business);
  const invoice = await desk.issued(account);
  // Of 284.90 the first 184.90 are paid, so that 100.00 is open.
  must(await desk.pay({ account, amount: '184.90', for: [[invoice, '184.90']] }));
  const amounts = [...Array(12).fill('12.50'), ...Array(4).fill('25.00')];
  const payments = [];
  for (const amount of amounts) payments.push(must(await desk.pay({ account, amount })));
  const results = await Promise.all(
    payments.map((payment, index) => desk.apply(payment, invoice, amounts[index])),
  );
  expect(results.map(codeOf).filter((code) => code !== 'ok' && code !== 'over_payment')).toEqual([]);
  const { openMinor, settledBy } = await desk.reread(invoice);
  expect([openMinor, settledBy.reduce((sum, each) => sum + each.amountMinor, 0n)]).toEqual([0n, 28490n]);
  const credit = (await desk.statement(account, '2026-08')).aging.unappliedMinor;
  expect(credit).toBe(-15000n);
  expect(await desk.faults()).toEqual([]);
});

test('two who settle the same two invoices in opposite order do not wait for each other', async () => {
  const account = await anAccount(business);
  const [one, two] = [await desk.issued(account), await desk.issued(account)];
  const attempts = Array.from({ length: 8 }, (_, index) => {
    const parts: Paying['for'] = [
      [one, '10.00'],
      [two, '10.00'],
    ];
    return desk.pay({ account, amount: '20.00', for: index % 2 === 0 ? parts : parts?.toReversed() });
  });
  expect((await Promise.all(attempts)).map(codeOf)).toEqual(Array(8).fill('ok'));
});

test('an application sent twice is one application; with another amount it is refused', async () => {
  const account = await anAccount(business);
  const invoice = await desk.issued(account);
  const payment = must(await desk.pay({ account, amount: '50.00' }));
  const id = world.newId<ApplicationId>();
  must(await desk.apply(payment, invoice, '20.00', id));
  expect(must(await desk.apply(payment, invoice, '20.00', id)).unappliedMinor).toBe(3000n);
  expect(codeOf(await desk.apply(payment, invoice, '21.00', id))).toBe('id_reused');
});

test('money applied by itself settles what was locked for it in one go, and nothing that came while it waited', async () => {
  const account = await anAccount(business, { appliesMoneyItself: true });
  const first = await desk.issued(account);
  const paid = await whileHeld(
    world,
    (sql) => sql`select from invoice_balances where invoice_id = ${first.id} for update`,
    () => desk.pay({ account, amount: '569.80' }),
    () => desk.issued(account),
  );
  const payment = must(paid.value);
  expect([paid.waited, payment.unappliedMinor]).toEqual([true, 28490n]);
  expect(payment.applications.map((part) => part.invoiceNumber)).toEqual([first.number]);
  expect(await desk.faults()).toEqual([]);
});

test('what a payment is said to be for is not settled a second time by the rest of it', async () => {
  const account = await anAccount(business, { appliesMoneyItself: true });
  const [first, second] = [await desk.issued(account), await desk.issued(account)];
  const sent = { account, amount: '300.00', for: [[first, '200.00']] as const };
  expect(must(await desk.pay(sent)).unappliedMinor).toBe(0n);
  expect([(await desk.reread(first)).openMinor, (await desk.reread(second)).openMinor]).toEqual([0n, 26980n]);
});
