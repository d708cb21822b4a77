import type {
  AccountId,
  ClearingMovementId,
  InvoiceId,
  OpeningId,
  PaymentId,
  ReceiptId,
} from '@grainwright/domain';
import { z } from 'zod';
import { method, referenceText } from '../payments/schemas.ts';
import { dayText, decimalText, idOf, idText, momentText, moneyText } from '../schemas.ts';

export const parkBody = z.object({
  id: idOf<ReceiptId>('receipt'),
  method,
  amount: moneyText,
  received_on: dayText,
  reference: referenceText,
  payer: z
    .string()
    .max(400)
    .default('')
    .meta({ description: 'What the check or the bank says of the payer.' }),
});

export const receiptParams = z.object({ id: idOf<ReceiptId>('receipt') });

export const receiptsQuery = z.object({
  assigned: z.enum(['true', 'false']).default('false'),
  past: idOf<ReceiptId>('receipt').optional().meta({ description: '`next` of the page before.' }),
});

export const assignBody = z.object({
  account_id: idOf<AccountId>('account'),
  payment_id: idOf<PaymentId>('payment').meta({ description: 'The id of the payment that it becomes.' }),
  on: dayText.nullable().default(null),
});

export const receiptAnswer = z
  .object({
    id: idText,
    method,
    reference: z.string(),
    payer: z.string(),
    amount: moneyText,
    currency: z.string(),
    received_on: dayText,
    recorded_at: momentText,
    assigned: z
      .object({ account_id: idText, account_name: z.string(), payment_id: idText, assigned_on: dayText })
      .nullable(),
  })
  .meta({ id: 'ParkedReceipt' });

export const receiptsAnswer = z.object({
  receipts: z.array(receiptAnswer),
  parked: moneyText.meta({ description: 'What waits for its payer, in all.' }),
  currency: z.string(),
  next: idText.nullable(),
});

export const lateBody = z.object({
  invoice_ids: z
    .array(idOf<InvoiceId>('invoice'))
    .max(1000)
    .nullable()
    .default(null)
    .meta({ description: 'Null: all that may be charged today.' }),
});

export const lateAnswer = z.object({
  percent: decimalText.meta({ description: 'Of a month. Zero: off.' }),
  grace_days: z.int(),
  charges: z.array(
    z.object({
      invoice_id: idText,
      invoice_number: z.string(),
      account_id: idText,
      account_name: z.string(),
      due_on: dayText,
      open: moneyText,
      disputed: moneyText,
      base: moneyText,
      amount: moneyText,
    }),
  ),
  total: moneyText,
  currency: z.string(),
});

export const chargedAnswer = z.object({
  charges: z.array(
    z.object({ id: idText, number: z.string(), invoice_number: z.string(), amount: moneyText }),
  ),
  currency: z.string(),
});

export const accountParams = z.object({ id: idOf<AccountId>('account') });

export const openingBody = z.object({
  id: idOf<OpeningId>('opening balance'),
  brought_on: dayText,
  items: z
    .array(z.object({ number: z.string().max(200), issued_on: dayText, due_on: dayText, amount: moneyText }))
    .max(500)
    .default([]),
  credit: z.string().max(24).default(''),
});

export const openingAnswer = z
  .object({
    id: idText,
    account_id: idText,
    brought_on: dayText,
    currency: z.string(),
    items: z.array(
      z.object({ id: idText, number: z.string(), issued_on: dayText, due_on: dayText, amount: moneyText }),
    ),
    credit: z.object({ payment_id: idText, amount: moneyText }).nullable(),
  })
  .meta({ id: 'OpeningBalance' });

export const openingsAnswer = z.object({ openings: z.array(openingAnswer) });

export const clearingBody = z.object({
  id: idOf<ClearingMovementId>('entry'),
  amount: moneyText,
  on: dayText,
  reference: referenceText,
});

export const clearingQuery = z.object({
  past: idOf<ClearingMovementId>('entry').optional().meta({ description: '`next` of the page before.' }),
});

export const clearingMovementAnswer = z
  .object({
    id: idText,
    kind: z.enum(['fee', 'payout']),
    amount: moneyText,
    on: dayText,
    reference: z.string(),
  })
  .meta({ id: 'ClearingMovement' });

export const clearingAnswer = z.object({
  there: moneyText.meta({ description: 'What the processor still has to pay out.' }),
  currency: z.string(),
  movements: z.array(clearingMovementAnswer),
  next: idText.nullable(),
});
