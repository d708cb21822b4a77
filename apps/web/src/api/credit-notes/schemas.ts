import {
  type AccountId,
  type ApplicationId,
  type CertificateId,
  type CreditNoteId,
  type InvoiceId,
  invoiceLineKinds,
  type LineId,
  type VisitId,
  type WorkOrderId,
} from '@grainwright/domain';
import { z } from 'zod';
import { dayText, decimalText, idOf, idText, moneyText } from '../schemas.ts';

const kind = z.enum(invoiceLineKinds);
const lineId = idOf<LineId>('line');
const visitId = idOf<VisitId>('visit').optional();

const lineToCredit = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('dropped'), line_id: lineId }),
  z.object({
    kind: z.literal('reduced'),
    line_id: lineId,
    net: moneyText.meta({ description: 'What the line comes to instead, before tax.' }),
  }),
  z.object({
    kind: z.literal('repriced'),
    line_id: lineId,
    measured_inches: decimalText.optional().meta({ description: 'The size that was measured.' }),
    rate_code: z.string().max(40).optional().meta({ description: 'Or the code it should have had.' }),
  }),
]);

const chargeToCredit = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('after_hours'), visit_id: visitId }),
  z.object({ kind: z.literal('rush'), visit_id: visitId }),
  z.object({ kind: z.literal('visit_minimum'), visit_id: visitId }),
  z.object({ kind: z.literal('trip'), visit_id: visitId }),
  z.object({ kind: z.literal('minimum'), work_order_id: idOf<WorkOrderId>('work order') }),
  z.object({
    kind: z.literal('fee'),
    label: z.string().max(200),
    work_order_id: idOf<WorkOrderId>('work order').optional(),
    visit_id: visitId,
  }),
]);

const asked = {
  invoice_id: idOf<InvoiceId>('invoice'),
  reason: z.string().max(1000),
  lines: z.array(lineToCredit).max(300).default([]),
  charges: z
    .array(chargeToCredit)
    .max(300)
    .default([])
    .meta({ description: 'Charges that come off whole; the visit only where the invoice is of several.' }),
  certificate_ids: z.array(idOf<CertificateId>('certificate')).max(20).default([]).meta({
    description:
      'Certificates furnished after the invoice that cover its date of work. Whether a late certificate may cover earlier sales is a local rule, for the business’s adviser.',
  }),
  issued_on: dayText.optional().meta({ description: 'An earlier day of an open month; today unless given.' }),
  apply: z
    .boolean()
    .default(true)
    .meta({ description: 'Settle the invoice with it at once, up to what is open.' }),
};

export const previewBody = z.object(asked);
export const creditNoteBody = z.object({ id: idOf<CreditNoteId>('credit note'), ...asked });

export const applyBody = z.object({
  id: idOf<ApplicationId>('application'),
  invoice_id: idOf<InvoiceId>('invoice'),
  amount: moneyText,
});

export const creditNoteParams = z.object({ id: idOf<CreditNoteId>('credit note') });

export const creditNotesQuery = z.object({
  account_id: idOf<AccountId>('account').optional(),
  before: z
    .string()
    .regex(/^\d{1,15}$/)
    .optional()
    .meta({ description: '`next` of the page before.' }),
});

export const previewAnswer = z.object({
  invoice_id: idText,
  invoice_number: z.string(),
  currency: z.string(),
  issued_on: dayText,
  lines: z.array(
    z.object({
      kind,
      line_id: idText.nullable(),
      work_order_id: idText.nullable(),
      visit_id: idText,
      description: z.string(),
      before: moneyText,
      after: moneyText,
      credit: moneyText,
      trail: z.string().meta({ description: 'How what remains came about, in words.' }),
    }),
  ),
  taxes: z.array(
    z.object({
      area_name: z.string(),
      component: z.string(),
      rate_percent: decimalText,
      before: moneyText,
      after: moneyText,
      credit: moneyText,
    }),
  ),
  net: moneyText,
  tax: moneyText,
  total: moneyText,
  applied: moneyText,
  left: moneyText,
  open_after: moneyText,
});

const creditNoteRow = {
  id: idText,
  number: z.string(),
  account_id: idText,
  account_name: z.string(),
  invoice_id: idText,
  invoice_number: z.string(),
  issued_on: dayText,
  currency: z.string(),
  reason: z.string(),
  net: moneyText,
  tax: moneyText,
  total: moneyText,
  unapplied: moneyText,
};

const party = z.object({ name: z.string(), address: z.string(), phone: z.string(), email: z.string() });

export const creditNoteAnswer = z
  .object({
    ...creditNoteRow,
    seller: party,
    buyer: party,
    lines: z.array(
      z.object({
        kind,
        work_order_id: idText.nullable(),
        line_id: idText.nullable(),
        description: z.string(),
        net: moneyText,
        labor: moneyText,
        materials: moneyText,
      }),
    ),
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
  .meta({ id: 'CreditNote' });

export const creditNotesAnswer = z.object({
  credit_notes: z.array(z.object(creditNoteRow)),
  next: z.string().nullable(),
});
