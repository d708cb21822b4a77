import type { PaymentId, PurchaseOrderId, RefundId } from '@grainwright/domain';
import { addPurchaseOrder, previewInvoice } from '@grainwright/operations';
import postgres, { type Sql } from 'postgres';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { billingDesk, codeOf, tailgate } from './support/billing-desk.ts';
import { acceptedWork } from './support/billing-world.ts';
import { receiptsDesk } from './support/receipts-desk.ts';
import { whileHeld } from './support/while-held.ts';
import { aBusiness, anAccount, type Business, must, openWorld, type World } from './support/world.ts';

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

/** What the ledger holds of an account, debits less credits. */
async function ledger(accountId: string, ledgerAccount: string): Promise<number> {
  const [row] = await admin`select coalesce(sum(amount_minor), 0)::int as sum from journal_lines
    where account_id = ${accountId} and ledger_account = ${ledgerAccount}`;
  return row?.sum;
}

test('a deposit is a debt to the customer, apart from what the account owes', async () => {
  const account = await anAccount(business);
  const deposit = must(await receipts.deposit(account, '200.00'));
  expect(deposit).toMatchObject({
    purpose: 'deposit',
    amountMinor: 20000n,
    unappliedMinor: 20000n,
    state: 'received',
  });
  expect(await ledger(account.id, 'deposits_held')).toBe(-20000);
  const statement = await desk.statement(account, '2026-08');
  expect(statement).toMatchObject({ closingMinor: 0n, paymentsMinor: 0n });
  expect(await desk.faults()).toEqual([]);
});

test('a deposit sent many times at once is one deposit; with another amount it is refused', async () => {
  const account = await anAccount(business);
  const id = world.newId<PaymentId>();
  const answers = await Promise.all(
    Array.from({ length: 8 }, () => receipts.deposit(account, '200.00', { id })),
  );
  expect(answers.map(codeOf)).toEqual(Array(8).fill('ok'));
  expect(codeOf(await receipts.deposit(account, '201.00', { id }))).toBe('id_reused');
  expect(codeOf(await desk.pay({ account, amount: '200.00', id }))).toBe('id_reused');
  expect(await ledger(account.id, 'deposits_held')).toBe(-20000);
});

// The agreed demo figures: INV-2005 of 330.69 with a deposit of 120.00 two days before, so that 210.69 is due.
test('the retail job’s deposit of 120.00 is taken by its invoice, which leaves 210.69 of 330.69', async () => {
  const account = await aRetailAccount();
  world.at('2026-08-10T09:00');
  const deposit = must(await receipts.deposit(account, '120.00', { on: '2026-08-10' }));
  world.at('2026-08-12T09:00');
  const work = await acceptedWork(account, { codes: ['LT-M', 'SC-S'] });
  const invoice = must(await desk.issue([work]));
  expect(invoice).toMatchObject({ totalMinor: 33069n, openMinor: 21069n, paidMinor: 12000n });
  expect(await receipts.reread(deposit)).toMatchObject({
    unappliedMinor: 0n,
    applications: [{ invoiceNumber: invoice.number, amountMinor: 12000n, appliedOn: '2026-08-12' }],
  });
  expect(await ledger(account.id, 'deposits_held')).toBe(0);
  const { chargesMinor, paymentsMinor, closingMinor } = await desk.statement(account, '2026-08');
  expect([chargesMinor, paymentsMinor, closingMinor]).toEqual([33069n, 12000n, 21069n]);
  expect(await desk.faults()).toEqual([]);
});

test('a deposit of the day of the invoice is taken as well, one that is for other work is not', async () => {
  const account = await anAccount(business);
  const work = await acceptedWork(account, { codes: tailgate });
  const other = await acceptedWork(account, { codes: tailgate });
  const own = must(await receipts.deposit(account, '100.00', { for: work.id, on: '2026-08-12' }));
  const others = must(await receipts.deposit(account, '50.00', { for: other.id, on: '2026-08-12' }));
  const invoice = must(await desk.issue([work]));
  expect(invoice).toMatchObject({ totalMinor: 28490n, openMinor: 18490n });
  expect((await receipts.reread(own)).unappliedMinor).toBe(0n);
  expect((await receipts.reread(others)).unappliedMinor).toBe(5000n);
  expect(codeOf(await receipts.deposit(account, '10.00', { for: work.id }))).toBe('wrong_state');
});

test('a deposit larger than the invoice pays it, and the rest stays held', async () => {
  const account = await anAccount(business);
  const deposit = must(await receipts.deposit(account, '300.00'));
  const work = await acceptedWork(account, { codes: tailgate });
  const invoice = must(await desk.issue([work]));
  expect(invoice.openMinor).toBe(0n);
  expect((await receipts.reread(deposit)).unappliedMinor).toBe(1510n);
  const [state] = await admin`select state from work_orders where id = ${work.id}`;
  expect(state?.state).toBe('paid');
  expect(await ledger(account.id, 'deposits_held')).toBe(-1510);
  expect((await desk.statement(account, '2026-08')).closingMinor).toBe(0n);
  expect(await desk.faults()).toEqual([]);
});

test('after a cancellation a deposit is given back less the fee that was agreed', async () => {
  const account = await anAccount(business);
  const deposit = must(await receipts.deposit(account, '120.00'));
  const id = world.newId<RefundId>();
  const refund = must(await receipts.giveBack(deposit, '120.00', { feeKept: '35.00', id }));
  expect(refund).toMatchObject({ amountMinor: 12000n, feeKeptMinor: 3500n });
  expect(must(await receipts.giveBack(deposit, '120.00', { feeKept: '35.00', id }))).toEqual(refund);
  expect(codeOf(await receipts.giveBack(deposit, '120.00', { feeKept: '36.00', id }))).toBe('id_reused');
  expect(await receipts.reread(deposit)).toMatchObject({ state: 'refunded', unappliedMinor: 0n });
  expect(await ledger(account.id, 'deposits_held')).toBe(0);
  expect(await ledger(account.id, 'fee_income')).toBe(-3500);
  expect(await ledger(account.id, 'bank')).toBe(-8500);
  expect((await desk.statement(account, '2026-08')).closingMinor).toBe(0n);
  expect(codeOf(await receipts.comesBack(deposit, { on: '2026-08-12' }))).toBe('wrong_state');
  expect(await desk.faults()).toEqual([]);
});

test('no more is given back than is held, and no fee is larger than what it is kept of', async () => {
  const account = await anAccount(business);
  const deposit = must(await receipts.deposit(account, '120.00'));
  expect(codeOf(await receipts.giveBack(deposit, '120.01'))).toBe('over_payment');
  expect(codeOf(await receipts.giveBack(deposit, '20.00', { feeKept: '20.01' }))).toBe('invalid_money');
  const payment = must(await desk.pay({ account, amount: '10.00' }));
  expect(codeOf(await receipts.giveBack({ ...payment, purpose: 'deposit' }, '5.00'))).toBe('wrong_state');
  expect(codeOf(await receipts.giveBack({ ...deposit, purpose: 'payment' }, '5.00'))).toBe('wrong_state');
});

test('a deposit that comes back reopens what it had settled and is no longer held', async () => {
  const account = await anAccount(business);
  const deposit = must(await receipts.deposit(account, '100.00'));
  const invoice = must(await desk.issue([await acceptedWork(account, { codes: tailgate })]));
  expect(invoice.openMinor).toBe(18490n);
  must(await receipts.comesBack(deposit, { on: '2026-08-12' }));
  expect((await desk.reread(invoice)).openMinor).toBe(28490n);
  expect(await receipts.reread(deposit)).toMatchObject({ state: 'returned', unappliedMinor: 0n });
  expect(await ledger(account.id, 'deposits_held')).toBe(0);
  expect((await desk.statement(account, '2026-08')).closingMinor).toBe(28490n);
  expect(await desk.faults()).toEqual([]);
});

test('whoever issues and whoever gives the deposit back at the same time: it is used once', async () => {
  for (let round = 0; round < 4; round += 1) {
    const account = await anAccount(business);
    const work = await acceptedWork(account, { codes: tailgate });
    const deposit = must(await receipts.deposit(account, '100.00', { for: work.id }));
    const [issued, back] = await Promise.all([desk.issue([work]), receipts.giveBack(deposit, '100.00')]);
    const invoice = must(issued);
    expect(codeOf(back)).toBe(invoice.openMinor === 28490n ? 'ok' : 'over_payment');
    expect(await ledger(account.id, 'deposits_held')).toBe(0);
  }
  expect(await desk.faults()).toEqual([]);
});

test('an invoice waits for a deposit that somebody handles at that moment, and takes it', async () => {
  const account = await anAccount(business);
  const work = await acceptedWork(account, { codes: tailgate });
  const deposit = must(await receipts.deposit(account, '100.00', { for: work.id }));
  const issued = await whileHeld(
    world,
    (sql) => sql`select from payment_balances where payment_id = ${deposit.id} for update`,
    () => desk.issue([work]),
    // While it waits it keeps nobody from the work order.
    async (sql) =>
      expect(await sql`select id from work_orders where id = ${work.id} for update skip locked`).toHaveLength(
        1,
      ),
  );
  expect([issued.waited, must(issued.value).openMinor]).toEqual([true, 18490n]);
  expect(await desk.faults()).toEqual([]);
});

test('a preview waits for nobody: whoever holds the deposit, the work order or the purchase order is left alone', async () => {
  const account = await anAccount(business);
  const work = await acceptedWork(account, { codes: tailgate, poNumber: '77105' });
  const order = {
    accountId: account.id,
    number: '77105',
    cap: '300.00',
    validFrom: '2026-08-01',
    validTo: null,
  };
  const id = world.newId<PurchaseOrderId>();
  must(await addPurchaseOrder(world.services, business.office, { ...order, id, note: '' }));
  const deposit = must(await receipts.deposit(account, '100.00', { for: work.id }));
  const previewed = await whileHeld(
    world,
    async (sql) => {
      await sql`select from payment_balances where payment_id = ${deposit.id} for update`;
      await sql`select from purchase_orders where id = ${id} for update`;
      await sql`select from work_orders where id = ${work.id} for update`;
    },
    () => previewInvoice(world.services, business.bookkeeper, { workOrderIds: [work.id] }),
  );
  expect(previewed.waited).toBe(false);
  expect(must(previewed.value)).toMatchObject({ totalMinor: 28490n, prepaidMinor: 10000n });
});

function aRetailAccount() {
  return anAccount(business, {
    name: 'Retail, walk-in',
    kind: 'retail',
    tierCode: 'retail',
    taxAreaCode: 'B',
    termsDays: 0,
    walkIn: true,
    limit: null,
  });
}
