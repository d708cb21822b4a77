import type {
  AccountGroupId,
  AccountId,
  ApplicationId,
  ClearingMovementId,
  CreditMoveId,
  InvoiceId,
  OpeningId,
  PaymentId,
  ReceiptId,
  RefundId,
  ReturnId,
  UnapplicationId,
  WorkOrderId,
} from '@grainwright/domain';
import {
  addAccountGroup,
  applyPayment,
  assignReceipt,
  bringForward,
  moveCredit,
  parkReceipt,
  recordDeposit,
  recordPayment,
  recordPayout,
  recordProcessorFee,
  refundCredit,
  refundDeposit,
  returnPayment,
  unapplyPayment,
} from '@grainwright/operations';
import { asAdministrator } from '../support/work-in-hand.ts';
import { type Account, must } from '../support/world.ts';

const on = '2026-08-05';

/** Money in every state that it can come to, and something left to do with it. */
export async function tellReceipts(
  account: Account,
  word: string,
  open: { readonly invoice: InvoiceId; readonly work: WorkOrderId },
) {
  const { world, bookkeeper, tenantId } = account.business;
  const { services, newId } = world;
  const pay = async (amount: string, method = 'check') => {
    const paymentId = newId<PaymentId>();
    const received = { method, amount, receivedOn: on, reference: `of ${word}`, applications: [] };
    must(await recordPayment(services, bookkeeper, { paymentId, accountId: account.id, ...received }));
    return paymentId;
  };
  const apply = async (paymentId: PaymentId) => {
    const applicationId = newId<ApplicationId>();
    must(
      await applyPayment(services, bookkeeper, {
        applicationId,
        paymentId,
        invoiceId: open.invoice,
        amount: '0.20',
      }),
    );
    return applicationId;
  };
  const holdDeposit = async () => {
    const paymentId = newId<PaymentId>();
    const received = {
      method: 'check',
      amount: '31.00',
      receivedOn: on,
      reference: '',
      workOrderId: open.work,
    };
    must(await recordDeposit(services, bookkeeper, { paymentId, accountId: account.id, ...received }));
    return paymentId;
  };
  await asAdministrator(
    world,
    (sql) => sql`update businesses set late_charge_percent = 1 where tenant_id = ${tenantId}
    returning tenant_id`,
  );
  const groupAccount = await inOneGroup(account, word);
  const held = { deposit: await holdDeposit(), credit: await pay('33.10'), card: await pay('9.00', 'card') };
  const applied = await apply(held.credit);
  const taken = await apply(held.credit);
  const made = await tellMade(account, word, { ...held, taken, groupAccount });
  return {
    named: {
      groupAccount,
      heldDeposit: held.deposit,
      creditPayment: held.credit,
      appliedApplication: applied,
      returnablePayment: await pay('12.00'),
      parkedReceipt: await park(account, word),
    },
    made: { ...made, deposit: held.deposit },
  };
}

/** Another account that is paid for together with this one. */
async function inOneGroup(account: Account, word: string): Promise<AccountId> {
  const { world, office, tenantId } = account.business;
  const group = world.newId<AccountGroupId>();
  must(await addAccountGroup(world.services, office, { id: group, name: `${word} group` }));
  const id = world.newId<AccountId>();
  await asAdministrator(world, async (sql) => {
    await sql`insert into accounts (tenant_id, id, short_name, name, kind, tier_code, tax_area_id, terms_days,
        statement_kind, invoice_rule, acceptance_rule, photo_rule, opened_on)
      select tenant_id, ${id}, 'G' || left(short_name, 6), ${`${word} second yard`}, kind, tier_code, tax_area_id,
        terms_days, statement_kind, invoice_rule, acceptance_rule, photo_rule, opened_on
      from accounts where id = ${account.id}`;
    return sql`update accounts set group_id = ${group} where tenant_id = ${tenantId} and id in (${account.id}, ${id})
      returning id`;
  });
  return id;
}

async function park({ business }: Account, word: string): Promise<ReceiptId> {
  const receiptId = business.world.newId<ReceiptId>();
  const parked = {
    method: 'check',
    amount: '17.00',
    receivedOn: on,
    reference: '',
    payer: `perhaps ${word}`,
  };
  must(await parkReceipt(business.world.services, business.bookkeeper, { receiptId, ...parked }));
  return receiptId;
}

interface ToldMoney {
  readonly deposit: PaymentId;
  readonly credit: PaymentId;
  readonly taken: ApplicationId;
  readonly groupAccount: AccountId;
}

/** One of everything that a request can make. */
async function tellMade(account: Account, word: string, told: ToldMoney) {
  const { newId } = account.business.world;
  return {
    ...(await tellTakenBack(account, `says ${word}`, told)),
    ...(await tellPaidBack(account, told)),
    ...(await tellCameIn(account, word)),
    noteRefund: newId(),
    noteMove: newId(),
  };
}

async function tellTakenBack({ id: accountId, business }: Account, reason: string, told: ToldMoney) {
  const { world, bookkeeper } = business;
  const { services, newId } = world;
  const paymentId = newId<PaymentId>();
  const received = { method: 'check', amount: '8.00', receivedOn: on, reference: '', applications: [] };
  must(await recordPayment(services, bookkeeper, { paymentId, accountId, ...received }));
  const returnId = newId<ReturnId>();
  const came = { returnId, paymentId, returnedOn: on, reason, fee: '1.00' };
  must(await returnPayment(services, bookkeeper, came));
  const unapplicationId = newId<UnapplicationId>();
  const taken = { unapplicationId, paymentId: told.credit, applicationId: told.taken, reason, on };
  must(await unapplyPayment(services, bookkeeper, taken));
  return { return: returnId, unapplication: unapplicationId };
}

async function tellPaidBack({ business }: Account, { credit, deposit, groupAccount }: ToldMoney) {
  const { world, bookkeeper } = business;
  const { services, newId } = world;
  const [creditRefund, depositRefund] = [newId<RefundId>(), newId<RefundId>()];
  const paidBack = { amount: '1.00', method: 'check', reference: '', on };
  const from = { paymentId: credit };
  must(await refundCredit(services, bookkeeper, { refundId: creditRefund, from, ...paidBack }));
  const given = { refundId: depositRefund, paymentId: deposit, feeKept: '0.50', ...paidBack };
  must(await refundDeposit(services, bookkeeper, given));
  const creditMove = newId<CreditMoveId>();
  const move = { moveId: creditMove, from, toAccountId: groupAccount, amount: '1.00', on };
  must(await moveCredit(services, bookkeeper, move));
  return { creditRefund, depositRefund, creditMove };
}

async function tellCameIn(account: Account, word: string) {
  const { world, bookkeeper } = account.business;
  const { services, newId } = world;
  const accountId = account.id;
  const receipt = await park(account, word);
  const assignedPayment = newId<PaymentId>();
  const assigned = { receiptId: receipt, accountId, paymentId: assignedPayment, on };
  must(await assignReceipt(services, bookkeeper, assigned));
  const opening = newId<OpeningId>();
  const items = [{ number: `${word} 9`, issuedOn: '2026-07-01', dueOn: '2026-09-01', amount: '3.00' }];
  const brought = { openingId: opening, accountId, broughtOn: on, items, credit: '' };
  must(await bringForward(services, bookkeeper, brought));
  const [clearingFee, clearingPayout] = [newId<ClearingMovementId>(), newId<ClearingMovementId>()];
  const moved = { amount: '0.50', on, reference: '' };
  must(await recordProcessorFee(services, bookkeeper, { movementId: clearingFee, ...moved }));
  must(await recordPayout(services, bookkeeper, { movementId: clearingPayout, ...moved }));
  return { receipt, assignedPayment, opening, clearingFee, clearingPayout };
}
