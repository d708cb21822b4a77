import { formatMinor } from '@grainwright/domain';
import type { PaymentView, RefundView } from '@grainwright/operations';
import type { z } from 'zod';
import type { paymentAnswer, refundAnswer } from './schemas.ts';

export function answerPayment(view: PaymentView): z.input<typeof paymentAnswer> {
  const { id, method, purpose, reference, currency, state } = view;
  const amount = (minor: bigint) => formatMinor(minor, currency);
  return {
    id,
    account_id: view.accountId,
    account_name: view.accountName,
    method,
    purpose,
    work_order_id: view.workOrderId,
    reference,
    amount: amount(view.amountMinor),
    unapplied: amount(view.unappliedMinor),
    currency,
    received_on: view.receivedOn,
    recorded_at: view.recordedAt,
    state,
    returned_on: view.returnedOn,
    refunded: amount(view.refundedMinor),
    moved: amount(view.movedMinor),
    refunds: view.refunds.map(answerRefund),
    applications: view.applications.map((application) => ({
      id: application.id,
      invoice_id: application.invoiceId,
      invoice_number: application.invoiceNumber,
      amount: amount(application.amountMinor),
      applied_on: application.appliedOn,
      by_rule: application.byRule,
      unapplied_on: application.unappliedOn,
      unapplied_reason: application.unappliedReason,
    })),
  };
}

export function answerRefund(view: RefundView): z.input<typeof refundAnswer> {
  return {
    id: view.id,
    amount: formatMinor(view.amountMinor, view.currency),
    fee_kept: formatMinor(view.feeKeptMinor, view.currency),
    method: view.method,
    reference: view.reference,
    refunded_on: view.refundedOn,
  };
}
