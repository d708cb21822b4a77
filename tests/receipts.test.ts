import {
  type AccountGroupId,
  type ClearingMovementId,
  type CreditMoveId,
  type CreditNoteId,
  decimal,
  formatMinor,
  type InvoiceId,
  type OpeningId,
  type PaymentId,
  type ReceiptId,
  type RefundId,
} from '@grainwright/domain';
import {
  bringForward,
  chargeLate,
  issueCreditNote,
  listLateCharges,
  listParkedReceipts,
  moveCredit,
  readClearing,
  readInvoice,
  recordPayout,
  recordProcessorFee,
  refundCredit,
} from '@grainwright/operations';
import postgres, { type Sql } from 'postgres';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { billingDesk, codeOf, type Paying } from './support/billing-desk.ts';
import { receiptsDesk } from './support/receipts-desk.ts';
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
  admin = postgres(world.adminUrl, { max: 2, onnotice: () => undefined });
});
afterAll(() => admin.end({ timeout: 5 }));

/** Debits less credits of a ledger account, of the whole business. */
async function ledger(ledgerAccount: string): Promise<number> {
  const [row] = await admin`select coalesce(sum(amount_minor), 0)::int as sum from journal_lines
    where ledger_account = ${ledgerAccount}`;
  return row?.sum;
}

async function inOneGroup(...accounts: readonly Account[]): Promise<void> {
  const id = world.newId<AccountGroupId>();
  await admin`insert into account_groups (tenant_id, id, name) values (${business.tenantId}, ${id}, ${`group ${id}`})`;
  await admin`update accounts set group_id = ${id} where id = any(${accounts.map((each) => each.id)})`;
}

test('one check of a group settles invoices of several of its accounts, each at its own account', async () => {
  const [payer, other] = [await anAccount(business), await anAccount(business)];
  await inOneGroup(payer, other);
  const [own, theirs] = [await desk.issued(payer), await desk.issued(other)];
  const sent: Paying = {
    account: payer,
    amount: '600.00',
    id: world.newId<PaymentId>(),
    for: [
      [own, '284.90'],
      [theirs, '284.90'],
    ],
  };
  const payment = must(await desk.pay(sent));
  expect(payment).toMatchObject({ unappliedMinor: 3020n, movedMinor: 28490n });
  expect(must(await desk.pay(sent))).toEqual(payment);
  expect(codeOf(await desk.pay({ ...sent, for: [[own, '284.90']] }))).toBe('id_reused');
  for (const invoice of [own, theirs]) expect((await desk.reread(invoice)).openMinor).toBe(0n);
  expect((await desk.statement(payer, '2026-08')).closingMinor).toBe(-3020n);
  expect((await desk.statement(other, '2026-08')).closingMinor).toBe(0n);
  expect(await desk.faults()).toEqual([]);
});

test('when that check comes back, what it settled at the other accounts is open again as well', async () => {
  const [payer, other] = [await anAccount(business), await anAccount(business)];
  await inOneGroup(payer, other);
  const [own, theirs] = [await desk.issued(payer), await desk.issued(other)];
  const payment = must(
    await desk.pay({
      account: payer,
      amount: '600.00',
      for: [
        [own, '284.90'],
        [theirs, '284.90'],
      ],
    }),
  );
  const returned = must(await receipts.comesBack(payment));
  expect(returned).toMatchObject({ state: 'returned', unappliedMinor: 0n, movedMinor: 0n });
  for (const invoice of [own, theirs]) expect((await desk.reread(invoice)).openMinor).toBe(28490n);
  expect((await desk.statement(payer, '2026-08')).closingMinor).toBe(28490n);
  expect((await desk.statement(other, '2026-08')).closingMinor).toBe(28490n);
  expect(await desk.faults()).toEqual([]);
});

test('an invoice of an account outside the group is no invoice of the payer’s', async () => {
  const [payer, stranger] = [await anAccount(business), await anAccount(business)];
  await inOneGroup(payer);
  const invoice = await desk.issued(stranger);
  expect(codeOf(await desk.pay({ account: payer, amount: '10.00', for: [[invoice, '10.00']] }))).toBe(
    'not_found',
  );
});

test('credit moves within a group only, never more than is left, and can’t be returned from there', async () => {
  const [giver, taker, stranger] = [
    await anAccount(business),
    await anAccount(business),
    await anAccount(business),
  ];
  await inOneGroup(giver, taker);
  const payment = must(await desk.pay({ account: giver, amount: '100.00' }));
  expect(codeOf(await receipts.move(payment, stranger.id, '10.00'))).toBe('wrong_state');
  expect(codeOf(await receipts.move(payment, giver.id, '10.00'))).toBe('invalid_input');
  expect(codeOf(await receipts.move(payment, taker.id, '100.01'))).toBe('over_payment');
  const held = must(await receipts.move(payment, taker.id, '60.00'));
  expect(held).toMatchObject({ accountId: taker.id, method: 'moved', unappliedMinor: 6000n });
  expect(codeOf(await receipts.comesBack(held))).toBe('wrong_state');
  const invoice = await desk.issued(taker);
  must(await desk.apply(held, invoice, '60.00'));
  expect((await desk.statement(giver, '2026-08')).closingMinor).toBe(-4000n);
  expect((await desk.statement(taker, '2026-08')).closingMinor).toBe(22490n);
  expect(await desk.faults()).toEqual([]);
});

test('account credit is paid back once, and not more than there is', async () => {
  const account = await anAccount(business);
  const payment = must(await desk.pay({ account, amount: '123.22' }));
  const id = world.newId<RefundId>();
  expect(codeOf(await receipts.giveBack(payment, '123.23'))).toBe('over_payment');
  const refund = must(await receipts.giveBack(payment, '123.22', { id, method: 'ach' }));
  expect(must(await receipts.giveBack(payment, '123.22', { id, method: 'ach' }))).toEqual(refund);
  expect(await receipts.reread(payment)).toMatchObject({ state: 'refunded', unappliedMinor: 0n });
  const { paymentsMinor, closingMinor } = await desk.statement(account, '2026-08');
  expect([paymentsMinor, closingMinor]).toEqual([0n, 0n]);
  expect(await receipts.comesBack(payment)).toMatchObject({
    problem: { code: 'wrong_state', detail: expect.stringContaining('Collect the money from the account') },
  });
});

test('whoever pays back and whoever applies the same credit at once: it is used once', async () => {
  const account = await anAccount(business);
  const invoice = await desk.issued(account);
  const payment = must(await desk.pay({ account, amount: '100.00' }));
  const answers = await Promise.all([
    ...Array.from({ length: 6 }, () => receipts.giveBack(payment, '30.00')),
    ...Array.from({ length: 6 }, () => desk.apply(payment, invoice, '30.00')),
  ]);
  expect(answers.filter((answer) => answer.ok)).toHaveLength(3);
  expect((await receipts.reread(payment)).unappliedMinor).toBe(1000n);
  expect(await desk.faults()).toEqual([]);
});

test('the statement of a month with deposit, return and refund adds up', async () => {
  const account = await anAccount(business);
  must(await receipts.deposit(account, '84.90'));
  const invoice = await desk.issued(account);
  const check = must(await desk.pay({ account, amount: '200.00', for: [[invoice, '200.00']] }));
  must(await receipts.comesBack(check, { fee: '20.00' }));
  const second = must(await desk.pay({ account, amount: '230.00', for: [[invoice, '200.00']] }));
  must(await receipts.giveBack(second, '10.00'));
  const told = await desk.statement(account, '2026-08');
  // Charges 284.90 + 20.00; payments 84.90 + 200.00 - 200.00 + 230.00 - 10.00; added up by hand.
  expect([
    told.openingMinor,
    told.chargesMinor,
    told.creditsMinor,
    told.paymentsMinor,
    told.closingMinor,
  ]).toEqual([0n, 30490n, 0n, 30490n, 0n]);
  expect([told.aging.unappliedMinor, told.aging.buckets.current]).toEqual([-2000n, 2000n]);
  expect(await desk.faults()).toEqual([]);
});

test('credit of a credit note is paid back and moved like that of a payment', async () => {
  const [account, other] = [await anAccount(business), await anAccount(business)];
  await inOneGroup(account, other);
  const invoice = await desk.issued(account);
  must(await desk.pay({ account, amount: '284.90', for: [[invoice, '284.90']] }));
  const lineId = invoice.vehicles[0]?.lines[0]?.lineId;
  if (lineId === undefined || lineId === null) throw new Error('the invoice has no line');
  const creditNoteId = world.newId<CreditNoteId>();
  const note = must(
    await issueCreditNote(world.services, business.bookkeeper, {
      creditNoteId,
      invoiceId: invoice.id,
      reason: 'agreed',
      lines: [{ kind: 'dropped', lineId }],
      charges: [],
      certificateIds: [],
      issuedOn: null,
      apply: false,
    }),
  );
  const from = { creditNoteId };
  const back = { refundId: world.newId<RefundId>(), from, method: 'check', reference: '', on: null };
  const more = formatMinor(note.totalMinor + 1n, 'USD');
  expect(codeOf(await refundCredit(world.services, business.bookkeeper, { ...back, amount: more }))).toBe(
    'over_payment',
  );
  must(await refundCredit(world.services, business.bookkeeper, { ...back, amount: '10.00' }));
  const moveId = world.newId<CreditMoveId>();
  const move = { moveId, from, toAccountId: other.id, amount: '15.00', on: null };
  must(await moveCredit(world.services, business.bookkeeper, move));
  expect((await desk.statement(other, '2026-08')).closingMinor).toBe(-1500n);
  expect((await desk.statement(account, '2026-08')).closingMinor).toBe(2500n - note.totalMinor);
  expect(await desk.faults()).toEqual([]);
});

test('money of an unknown payer is nobody’s credit until it is assigned, and then the account’s from that day', async () => {
  const account = await anAccount(business);
  const before = await ledger('unassigned_receipts');
  const parked = must(await receipts.park('88.40'));
  expect(await ledger('unassigned_receipts')).toBe(before - 8840);
  const list = must(
    await listParkedReceipts(world.services, business.bookkeeper, { assigned: false, past: null }),
  );
  expect(list.rows.map((row) => row.id)).toContain(parked.id);
  const paymentId = world.newId<PaymentId>();
  const payment = must(await receipts.assign(parked.id, account, paymentId));
  expect(payment).toMatchObject({
    id: paymentId,
    receivedOn: '2026-08-05',
    unappliedMinor: 8840n,
    reference: '2210',
  });
  expect(must(await receipts.assign(parked.id, account, paymentId))).toEqual(payment);
  expect(codeOf(await receipts.assign(parked.id, account))).toBe('wrong_state');
  expect(await ledger('unassigned_receipts')).toBe(before);
  expect((await desk.statement(account, '2026-08')).closingMinor).toBe(-8840n);
  expect(await desk.faults()).toEqual([]);
});

test('a receipt parked by many senders at once is one, and assigned by many at once it is one account’s', async () => {
  const accounts = [await anAccount(business), await anAccount(business)];
  const id = world.newId<ReceiptId>();
  const parked = await Promise.all(Array.from({ length: 6 }, () => receipts.park('40.00', id)));
  expect(parked.map(codeOf)).toEqual(Array(6).fill('ok'));
  expect(codeOf(await receipts.park('41.00', id))).toBe('id_reused');
  const assigned = await Promise.all(
    [...accounts, ...accounts, ...accounts].map((account) => receipts.assign(id, account)),
  );
  expect(assigned.map(codeOf).toSorted()).toEqual(['ok', ...Array(5).fill('wrong_state')]);
  expect(await desk.faults()).toEqual([]);
});

test('an account that has its money applied by itself: oldest due first, and the rest stays credit', async () => {
  const account = await anAccount(business, { appliesMoneyItself: true });
  const [first, second] = [await desk.issued(account), await desk.issued(account)];
  const sent: Paying = { account, amount: '300.00', id: world.newId<PaymentId>() };
  const payment = must(await desk.pay(sent));
  expect(
    payment.applications.map(({ invoiceNumber, amountMinor, byRule }) => [
      invoiceNumber,
      amountMinor,
      byRule,
    ]),
  ).toEqual([
    [first.number, 28490n, true],
    [second.number, 1510n, true],
  ]);
  expect(must(await desk.pay(sent))).toEqual(payment);
  const more = must(await desk.pay({ account, amount: '280.00' }));
  expect([more.unappliedMinor, (await desk.reread(second)).openMinor]).toEqual([1020n, 0n]);
  const plain = await anAccount(business);
  await desk.issued(plain);
  expect(must(await desk.pay({ account: plain, amount: '5.00' })).applications).toEqual([]);
});

test('late charges are off until the business sets a per cent', async () => {
  expect(must(await listLateCharges(world.services, business.bookkeeper)).rows).toEqual([]);
  expect(codeOf(await chargeLate(world.services, business.bookkeeper, { invoiceIds: null }))).toBe(
    'wrong_state',
  );
});

// 1.5 % of 284.90 is 4.2735, by hand; the rule is common practice, no source.
test('a late invoice is charged once a month, never a late charge, and not once it was paid', async () => {
  const shop = await aBusiness(world);
  const own = billingDesk(shop);
  await admin`update businesses set late_charge_percent = 1.5, late_charge_grace_days = 10 where tenant_id = ${shop.tenantId}`;
  const account = await anAccount(shop);
  const invoice = await own.issued(account);
  const charge = () => chargeLate(world.services, shop.bookkeeper, { invoiceIds: null });
  world.at('2026-08-30T09:00');
  expect(must(await charge()).charges).toEqual([]);
  world.at('2026-08-31T09:00');
  const listed = must(await listLateCharges(world.services, shop.bookkeeper));
  expect(listed).toMatchObject({ percent: decimal('1.500'), totalMinor: 427n });
  const answers = await Promise.all(Array.from({ length: 5 }, charge));
  const charged = answers.flatMap((answer) => must(answer).charges);
  expect(charged).toMatchObject([{ number: 'FEE-1', invoiceNumber: invoice.number, amountMinor: 427n }]);
  world.at('2026-10-15T09:00');
  expect(must(await charge()).charges.map((each) => each.invoiceNumber)).toEqual([invoice.number]);
  must(await own.pay({ account, amount: '284.90', on: '2026-10-15', for: [[invoice, '284.90']] }));
  world.at('2026-11-20T09:00');
  expect(must(await charge()).charges).toEqual([]);
  expect((await own.statement(account, '2026-10')).closingMinor).toBe(854n);
  expect(await own.faults()).toEqual([]);
  world.at('2026-08-05T09:00');
});

test('what was open in older books ages from its own dates and is paid like an invoice', async () => {
  const account = await anAccount(business);
  const openingId = world.newId<OpeningId>();
  const input = {
    openingId,
    accountId: account.id,
    broughtOn: '2026-08-01',
    items: [
      { number: 'OLD-71', issuedOn: '2026-05-10', dueOn: '2026-06-09', amount: '75.00' },
      { number: 'OLD-88', issuedOn: '2026-07-20', dueOn: '2026-08-19', amount: '140.25' },
    ],
    credit: '15.25',
  };
  const opening = must(await bringForward(world.services, business.bookkeeper, input));
  expect(opening.items.map((item) => [item.number, item.totalMinor])).toEqual([
    ['OLD-71', 7500n],
    ['OLD-88', 14025n],
  ]);
  expect(must(await bringForward(world.services, business.bookkeeper, input))).toEqual(opening);
  expect(codeOf(await bringForward(world.services, business.bookkeeper, { ...input, credit: '15.26' }))).toBe(
    'id_reused',
  );
  const twice = { ...input, openingId: world.newId<OpeningId>() };
  expect(codeOf(await bringForward(world.services, business.bookkeeper, twice))).toBe('duplicate');
  const { aging, chargesMinor, closingMinor } = await desk.statement(account, '2026-08');
  expect([chargesMinor, closingMinor, aging.unappliedMinor]).toEqual([20000n, 20000n, -1525n]);
  expect(aging.buckets).toMatchObject({ current: 14025n, days_31_60: 7500n });
  const first = opening.items[0]?.id ?? world.newId<InvoiceId>();
  const document = must(await readInvoice(world.services, business.bookkeeper, first));
  must(await desk.pay({ account, amount: '75.00', for: [[document, '75.00']] }));
  expect((await desk.reread(document)).openMinor).toBe(0n);
  expect(await desk.faults()).toEqual([]);
});

test('what the processor keeps and pays out is never more than it holds', async () => {
  const shop = await aBusiness(world);
  const own = billingDesk(shop);
  const account = await anAccount(shop);
  must(await own.pay({ account, amount: '284.90', method: 'card' }));
  const at = (amount: string, movementId = world.newId<ClearingMovementId>()) => ({
    movementId,
    amount,
    on: '2026-08-05',
    reference: '',
  });
  const fee = must(await recordProcessorFee(world.services, shop.bookkeeper, at('8.56')));
  expect(must(await recordProcessorFee(world.services, shop.bookkeeper, at('8.56', fee.id)))).toEqual(fee);
  expect(codeOf(await recordPayout(world.services, shop.bookkeeper, at('276.35')))).toBe('over_payment');
  const paid = await Promise.all(
    Array.from({ length: 4 }, () => recordPayout(world.services, shop.bookkeeper, at('276.34'))),
  );
  expect(paid.map(codeOf).toSorted()).toEqual(['ok', ...Array(3).fill('over_payment')]);
  const { thereMinor, rows } = must(await readClearing(world.services, shop.bookkeeper, { past: null }));
  expect([thereMinor, rows.length]).toEqual([0n, 2]);
  expect(await own.faults()).toEqual([]);
});
