import { formatMinor } from '@grainwright/domain';
import type { OpeningView, ParkedReceiptView } from '@grainwright/operations';
import type { z } from 'zod';
import type { openingAnswer, receiptAnswer } from './schemas.ts';

export function answerReceipt(view: ParkedReceiptView): z.input<typeof receiptAnswer> {
  const { id, method, reference, payer, currency, assigned } = view;
  return {
    id,
    method,
    reference,
    payer,
    amount: formatMinor(view.amountMinor, currency),
    currency,
    received_on: view.receivedOn,
    recorded_at: view.recordedAt,
    assigned: assigned && {
      account_id: assigned.accountId,
      account_name: assigned.accountName,
      payment_id: assigned.paymentId,
      assigned_on: assigned.assignedOn,
    },
  };
}

export function answerOpening(view: OpeningView): z.input<typeof openingAnswer> {
  const { id, accountId, broughtOn, currency, items, credit } = view;
  return {
    id,
    account_id: accountId,
    brought_on: broughtOn,
    currency,
    items: items.map((item) => ({
      id: item.id,
      number: item.number,
      issued_on: item.issuedOn,
      due_on: item.dueOn,
      amount: formatMinor(item.totalMinor, currency),
    })),
    credit: credit && { payment_id: credit.paymentId, amount: formatMinor(credit.amountMinor, currency) },
  };
}
