import type { AccountId, InvoiceId, WorkOrderId } from '@grainwright/domain';
import { z } from 'zod';
import { heldMethod } from '../payments/schemas.ts';
import { dayText, decimalText, idOf, idText, momentText, moneyText } from '../schemas.ts';

export const issueBody = z.object({
  id: idOf<InvoiceId>('invoice'),
  work_order_ids: z
    .array(idOf<WorkOrderId>('work order'))
    .min(1)
    .max(300)
    .meta({ description: 'Accepted work orders of one visit.' }),
});

export const invoiceParams = z.object({ id: idOf<InvoiceId>('invoice') });

export const invoicesQuery = z.object({
  account_id: idOf<AccountId>('account').optional(),
  open: z.enum(['true', 'false']).optional().meta({ description: 'true: only what is not settled.' }),
  before: z
    .string()
    .regex(/^\d{1,15}$/)
    .optional()
    .meta({ description: '`next` of the page before.' }),
});

const invoiceRow = {
  id: idText,
  number: z.string(),
  account_id: idText,
  account_name: z.string(),
  currency: z.string(),
  issued_on: dayText,
  due_on: dayText,
  worked_on: dayText.nullable().meta({ description: 'Null for a document that bills no work.' }),
  net: moneyText,
  tax: moneyText,
  total: moneyText,
  paid: moneyText,
  open: moneyText,
  overdue: z.boolean(),
};

const party = z.object({ name: z.string(), address: z.string(), phone: z.string(), email: z.string() });

const line = z.object({
  kind: z.enum(['repair', 'minimum', 'after_hours', 'trip', 'fee']),
  line_id: idText.nullable(),
  code: z.string(),
  description: z.string(),
  trail: z.string().meta({ description: 'How the amount came about, in words.' }),
  net: moneyText,
  labor: moneyText,
  materials: moneyText,
});

const vehicle = z.object({
  work_order_id: idText,
  work_order_number: z.string(),
  vehicle: z.string(),
  numbers: z.string(),
  subtotal: moneyText,
  lines: z.array(line),
  acceptance: z
    .object({
      outcome: z.enum(['accepted', 'accepted_with_remark', 'not_accepted']),
      remark: z.string(),
      signer_name: z.string(),
      signer_role: z.enum(['vehicle_owner', 'account_representative']),
      accepted_at: momentText,
    })
    .nullable(),
  pictures: z.array(
    z.object({
      line_id: idText.nullable(),
      before_photo_id: idText.nullable(),
      after_photo_id: idText.nullable(),
    }),
  ),
});

export const invoiceAnswer = z
  .object({
    ...invoiceRow,
    seller: party,
    buyer: party,
    certificate_number: z.string(),
    vehicles: z.array(vehicle),
    charges: z.array(line),
    taxes: z.array(
      z.object({
        area_code: z.string(),
        area_name: z.string(),
        component: z.string(),
        rate_percent: decimalText,
        base: moneyText,
        tax: moneyText,
      }),
    ),
    settled_by: z.array(
      z.object({
        payment_id: idText,
        method: heldMethod,
        reference: z.string(),
        received_on: dayText,
        amount: moneyText,
      }),
    ),
  })
  .meta({ id: 'Invoice' });

export const invoicesAnswer = z.object({
  invoices: z.array(z.object(invoiceRow)),
  next: z.string().nullable(),
});
