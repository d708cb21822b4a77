import type { AccountId, ApplicationId, InvoiceId, PaymentId } from '@grainwright/domain';
import { z } from 'zod';
import { dayText, idOf, idText, momentText, moneyText } from '../schemas.ts';

/** How money comes in from outside. */
const method = z.enum(['check', 'card', 'ach', 'cash']);
/** How it came in, or what gave the credit. */
export const heldMethod = z.enum(['check', 'card', 'ach', 'cash', 'moved', 'brought_forward']);

export const recordBody = z.object({
  id: idOf<PaymentId>('payment'),
  account_id: idOf<AccountId>('account'),
  method,
  amount: moneyText,
  received_on: dayText,
  reference: z.string().max(200).default(''),
  applications: z
    .array(z.object({ invoice_id: idOf<InvoiceId>('invoice'), amount: moneyText }))
    .max(300)
    .default([])
    .meta({ description: 'What it settles at once. The rest stays account credit.' }),
});

export const applyBody = z.object({
  id: idOf<ApplicationId>('application'),
  invoice_id: idOf<InvoiceId>('invoice'),
  amount: moneyText,
});

export const paymentParams = z.object({ id: idOf<PaymentId>('payment') });

export const paymentsQuery = z.object({
  account_id: idOf<AccountId>('account').optional(),
  before: idOf<PaymentId>('payment').optional().meta({ description: '`next` of the page before.' }),
});

export const paymentAnswer = z
  .object({
    id: idText,
    account_id: idText,
    account_name: z.string(),
    method: heldMethod,
    reference: z.string(),
    amount: moneyText,
    unapplied: moneyText,
    currency: z.string(),
    received_on: dayText,
    recorded_at: momentText,
    applications: z.array(
      z.object({
        id: idText,
        invoice_id: idText,
        invoice_number: z.string(),
        amount: moneyText,
        applied_on: dayText,
      }),
    ),
  })
  .meta({ id: 'Payment' });

export const paymentsAnswer = z.object({ payments: z.array(paymentAnswer), next: idText.nullable() });
