import type {
  AccountId,
  ApplicationId,
  CreditMoveId,
  PaymentId,
  ReceiptId,
  RefundId,
  ReturnId,
  UnapplicationId,
  WorkOrderId,
} from '@grainwright/domain';
import {
  assignReceipt,
  moveCredit,
  type PaymentView,
  parkReceipt,
  readPayment,
  recordDeposit,
  refundCredit,
  refundDeposit,
  returnPayment,
  unapplyPayment,
} from '@grainwright/operations';
import { must } from './must.ts';
import type { Account } from './world-account.ts';
import type { Business } from './world-business.ts';

/** What a bookkeeper does with money besides recording payments, in a few words each. */
export function receiptsDesk(business: Business) {
  const { world, bookkeeper } = business;
  const { services } = world;
  return {
    ...goingBack(business),
    deposit: (
      account: Account,
      amount: string,
      also: { on?: string; for?: WorkOrderId; method?: string; id?: PaymentId } = {},
    ) =>
      recordDeposit(services, bookkeeper, {
        paymentId: also.id ?? world.newId<PaymentId>(),
        accountId: account.id,
        workOrderId: also.for ?? null,
        method: also.method ?? 'card',
        amount,
        receivedOn: also.on ?? '2026-08-05',
        reference: '',
      }),
    move: (payment: PaymentView, to: AccountId, amount: string, id = world.newId<CreditMoveId>()) =>
      moveCredit(services, bookkeeper, {
        moveId: id,
        from: { paymentId: payment.id },
        toAccountId: to,
        amount,
        on: null,
      }),
    park: (amount: string, id = world.newId<ReceiptId>()) =>
      parkReceipt(services, bookkeeper, {
        receiptId: id,
        method: 'check',
        amount,
        receivedOn: '2026-08-03',
        reference: '2210',
        payer: 'a torn envelope',
      }),
    assign: (receiptId: ReceiptId, account: Account, paymentId = world.newId<PaymentId>()) =>
      assignReceipt(services, bookkeeper, { receiptId, accountId: account.id, paymentId, on: null }),
    reread: async (payment: PaymentView) => must(await readPayment(services, bookkeeper, payment.id)),
  };
}

/** What a bookkeeper does when money goes back, or off an invoice. */
function goingBack(business: Business) {
  const { world, bookkeeper } = business;
  const { services } = world;
  return {
    giveBack: (
      { id: paymentId, purpose }: PaymentView,
      amount: string,
      also: { feeKept?: string; method?: string; id?: RefundId } = {},
    ) => {
      const refundId = also.id ?? world.newId<RefundId>();
      const refund = { refundId, amount, method: also.method ?? 'check', reference: '', on: null };
      return purpose === 'deposit'
        ? refundDeposit(services, bookkeeper, { ...refund, paymentId, feeKept: also.feeKept ?? '' })
        : refundCredit(services, bookkeeper, { ...refund, from: { paymentId } });
    },
    comesBack: (
      payment: PaymentView,
      also: { on?: string; fee?: string | null; id?: ReturnId; reason?: string } = {},
    ) =>
      returnPayment(services, bookkeeper, {
        returnId: also.id ?? world.newId<ReturnId>(),
        paymentId: payment.id,
        returnedOn: also.on ?? '2026-08-05',
        reason: also.reason ?? 'insufficient funds',
        fee: also.fee ?? null,
      }),
    takeOff: (
      payment: PaymentView,
      applicationId: ApplicationId | undefined,
      also: { id?: UnapplicationId; reason?: string } = {},
    ) =>
      unapplyPayment(services, bookkeeper, {
        unapplicationId: also.id ?? world.newId<UnapplicationId>(),
        paymentId: payment.id,
        applicationId: applicationId ?? world.newId<ApplicationId>(),
        reason: also.reason ?? 'meant for another invoice',
        on: null,
      }),
  };
}
