import type {
  AccountId,
  ApplicationId,
  CreditMoveId,
  CreditNoteId,
  InvoiceId,
  PaymentId,
  RefundId,
  ReturnId,
  UnapplicationId,
  WorkOrderId,
} from '@grainwright/domain';
import { z } from 'zod';
import { dayText, idOf, idText, momentText, moneyText } from '../schemas.ts';

/** How money comes in from outside, and goes back. */
export const method = z.enum(['check', 'card', 'ach', 'cash']);
/** How it came in, or what gave the credit. */
export const heldMethod = z.enum(['check', 'card', 'ach', 'cash', 'moved', 'brought_forward']);
export const referenceText = z.string().max(200).default('');
/** The day something happened; today where it is left out. */
const onDay = dayText.nullable().default(null);

export const recordBody = z.object({
  id: idOf<PaymentId>('payment'),
  account_id: idOf<AccountId>('account'),
  method,
  amount: moneyText,
  received_on: dayText,
  reference: referenceText,
  applications: z
    .array(z.object({ invoice_id: idOf<InvoiceId>('invoice'), amount: moneyText }))
    .max(300)
    .default([])
    .meta({
      description:
        'What it settles at once, also of other accounts of the same group. The rest stays account credit.',
    }),
  anyway: z.boolean().default(false).meta({
    description:
      'Record it although a payment of this account with the same method, amount, reference and day is there. Without it that is refused with `duplicate`.',
  }),
});

export const depositBody = z.object({
  id: idOf<PaymentId>('payment'),
  account_id: idOf<AccountId>('account'),
  work_order_id: idOf<WorkOrderId>('work order')
    .nullable()
    .default(null)
    .meta({ description: 'Whose work it is for; null: whatever is invoiced next.' }),
  method,
  amount: moneyText,
  received_on: dayText,
  reference: referenceText,
});

export const applyBody = z.object({
  id: idOf<ApplicationId>('application'),
  invoice_id: idOf<InvoiceId>('invoice'),
  amount: moneyText,
});

export const unapplyBody = z.object({
  id: idOf<UnapplicationId>('un-application'),
  application_id: idOf<ApplicationId>('application'),
  reason: z.string().max(2000),
  on: onDay,
});

export const returnBody = z.object({
  id: idOf<ReturnId>('return'),
  returned_on: dayText,
  reason: z.string().max(2000),
  fee: moneyText
    .nullable()
    .default(null)
    .meta({ description: 'What the account is charged for it; null: nothing.' }),
});

export const refundBody = z.object({
  id: idOf<RefundId>('refund'),
  amount: moneyText,
  method,
  reference: referenceText,
  on: onDay,
});

export const depositRefundBody = refundBody.extend({
  fee_kept: z.string().max(24).default('').meta({ description: 'The part of the amount that is kept.' }),
});

export const moveBody = z.object({
  id: idOf<CreditMoveId>('move'),
  to_account_id: idOf<AccountId>('account'),
  amount: moneyText,
  on: onDay,
});

export const paymentParams = z.object({ id: idOf<PaymentId>('payment') });
export const creditNoteParams = z.object({ id: idOf<CreditNoteId>('credit note') });

export const paymentsQuery = z.object({
  account_id: idOf<AccountId>('account').optional(),
  show: z
    .enum(['all', 'unapplied', 'deposits', 'returned'])
    .default('all')
    .meta({ description: 'Those with something left, deposits, or what came back.' }),
  before: idOf<PaymentId>('payment').optional().meta({ description: '`next` of the page before.' }),
});

export const refundAnswer = z
  .object({
    id: idText,
    amount: moneyText,
    fee_kept: moneyText,
    method: heldMethod,
    reference: z.string(),
    refunded_on: dayText,
  })
  .meta({ id: 'Refund' });

export const paymentAnswer = z
  .object({
    id: idText,
    account_id: idText,
    account_name: z.string(),
    method: heldMethod,
    purpose: z.enum(['payment', 'deposit']),
    work_order_id: idText.nullable(),
    reference: z.string(),
    amount: moneyText,
    unapplied: moneyText,
    currency: z.string(),
    received_on: dayText,
    recorded_at: momentText,
    state: z.enum(['received', 'returned', 'refunded', 'moved']),
    returned_on: dayText.nullable(),
    refunded: moneyText,
    moved: moneyText.meta({ description: 'What of it other accounts of the group hold.' }),
    refunds: z.array(refundAnswer),
    applications: z.array(
      z.object({
        id: idText,
        invoice_id: idText,
        invoice_number: z.string(),
        amount: moneyText,
        applied_on: dayText,
        by_rule: z.boolean(),
        unapplied_on: dayText.nullable(),
        unapplied_reason: z.string().nullable(),
      }),
    ),
  })
  .meta({ id: 'Payment' });

export const paymentsAnswer = z.object({ payments: z.array(paymentAnswer), next: idText.nullable() });
