import { type AccountId, type InvoiceId, invoiceLineKinds, type WorkOrderId } from '@grainwright/domain';
import { z } from 'zod';
import { disputeAnswer } from '../disputes/schemas.ts';
import { heldMethod } from '../payments/schemas.ts';
import { dayText, decimalText, idOf, idText, momentText, moneyText } from '../schemas.ts';
import { pricedByHand } from '../work-orders/price-note-schemas.ts';

export const issueBody = z.object({
  id: idOf<InvoiceId>('invoice'),
  work_order_ids: z.array(idOf<WorkOrderId>('work order')).min(1).max(1000).meta({
    description:
      'Accepted work orders, and void ones with a fee for a vehicle that was not there: of one visit, or of any visits of an account that is invoiced by the month.',
  }),
  issued_on: dayText
    .optional()
    .meta({ description: 'The day it bears, today unless given; not before the work was accepted.' }),
});

export const previewBody = issueBody.omit({ id: true });

export const previewAnswer = z
  .object({
    issued_on: dayText,
    due_on: dayText,
    currency: z.string(),
    repairs: moneyText.meta({ description: 'With minimums.' }),
    after_hours: moneyText,
    rush: moneyText,
    visit_minimum: moneyText,
    trip: moneyText,
    fees: moneyText,
    tax: moneyText,
    total: moneyText,
    prepaid: moneyText.meta({ description: 'What deposits would take off it.' }),
  })
  .meta({ id: 'InvoicePreview' });

export const readyQuery = z.object({
  account_id: idOf<AccountId>('account').optional(),
  after: idOf<AccountId>('account').optional().meta({ description: '`next` of the page before.' }),
});

export const runBody = z.object({
  through: dayText.optional().meta({
    description: 'Work up to this day, today unless given; of monthly accounts, months that end by it.',
  }),
  account_ids: z.array(idOf<AccountId>('account')).min(1).max(300).optional(),
  issued_on: dayText.optional(),
});

const demandedNumber = z.enum(['stock', 'unit', 'lot', 'job', 'claim', 'repair_order', 'purchase_order']);

const toIssue = z.object({
  account_id: idText,
  account_name: z.string(),
  invoice_rule: z.enum(['at_once', 'per_visit', 'monthly']),
  month: z.string().nullable().meta({ description: 'YYYY-MM; only for an account invoiced by the month.' }),
  currency: z.string(),
  work_orders: z.array(
    z.object({
      id: idText,
      number: z.string(),
      visit_id: idText,
      site_name: z.string(),
      day: dayText,
      vehicle: z.string(),
      numbers: z.string(),
      missing: z.array(demandedNumber),
      repairs: moneyText.nullable().meta({ description: 'Null for a vehicle that was not there.' }),
      fee: moneyText.nullable().meta({ description: 'Only for a vehicle that was not there.' }),
      ro_invoiced_on: z.array(z.string()).meta({ description: 'Invoices that carry the same RO already.' }),
    }),
  ),
  waits_for: z
    .enum(['vehicles', 'numbers', 'month_end'])
    .nullable()
    .meta({ description: 'Null: nothing, a run issues it.' }),
});

export const readyAnswer = z.object({ invoices: z.array(toIssue), next: idText.nullable() });

export const invoiceParams = z.object({ id: idOf<InvoiceId>('invoice') });

export const invoicesQuery = z.object({
  account_id: idOf<AccountId>('account').optional(),
  open: z.enum(['true', 'false']).optional().meta({ description: 'true: only what is not settled.' }),
  standing: z
    .enum(['open', 'disputed', 'paid', 'void'])
    .optional()
    .meta({ description: 'Only those that stand so; `paid` is settled by money or without.' }),
  before: idOf<InvoiceId>('invoice').optional().meta({ description: '`next` of the page before.' }),
});

const invoiceRow = {
  id: idText,
  kind: z
    .enum(['invoice', 'return_fee', 'late_charge', 'opening_balance'])
    .meta({ description: 'All of them age and are paid alike.' }),
  number: z.string(),
  numbers: z.array(z.string()).meta({
    description: 'The account’s numbers of its vehicles, in words: “stock number PL-251, RO 48213”.',
  }),
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
  forgiven: moneyText.meta({
    description: 'Settled without money: credited, written off, taken as a discount.',
  }),
  open: moneyText,
  disputed: moneyText.meta({ description: 'Of what is open, the part in dispute.' }),
  overdue: z.boolean(),
  voided_on: dayText.nullable().meta({ description: 'Null while it stands.' }),
};

const party = z.object({ name: z.string(), address: z.string(), phone: z.string(), email: z.string() });

const line = z.object({
  visit_id: idText.nullable(),
  kind: z.enum(invoiceLineKinds),
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
  visit_id: idText,
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
  unsigned: z
    .object({
      why: z.enum(['refused', 'absent']),
      reason: z.string(),
      witness: z.string(),
      released_by: z.string(),
    })
    .nullable()
    .meta({ description: 'Why it went without a signature, and who let it.' }),
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
    seller: party.extend({ note: z.string() }),
    buyer: party,
    subject: z.string().meta({ description: 'What a fee or a balance from older books is for.' }),
    certificate_number: z.string(),
    vehicles: z.array(vehicle),
    charges: z.array(line),
    visits: z.array(
      z.object({
        visit_id: idText,
        worked_on: dayText,
        place: z.string(),
        area_code: z.string(),
        certificate_number: z
          .string()
          .meta({ description: 'That counted on the date of work; may be empty.' }),
      }),
    ),
    prepaid: moneyText.meta({ description: 'What deposits settled.' }),
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
        purpose: z.enum(['payment', 'deposit']),
        method: heldMethod,
        reference: z.string(),
        received_on: dayText,
        amount: moneyText,
      }),
    ),
    credited_by: z.array(
      z.object({ credit_note_id: idText, number: z.string(), applied_on: dayText, amount: moneyText }),
    ),
    let_go: z.array(
      z.object({
        kind: z.enum(['bad_debt', 'small_difference', 'discount']),
        write_off_id: idText.nullable(),
        on: dayText,
        amount: moneyText,
      }),
    ),
    disputes: z.array(disputeAnswer),
    void_reason: z.string().nullable(),
    priced_by_hand: pricedByHand.meta({ description: 'The business’s own; contacts get an empty list.' }),
  })
  .meta({ id: 'Invoice' });

export const runAnswer = z.object({
  through: dayText,
  issued: z.array(z.object(invoiceRow)),
  refused: z.array(toIssue.extend({ code: z.string(), detail: z.string() })),
  waiting: z.array(toIssue),
});

export const invoicesAnswer = z.object({
  invoices: z.array(z.object(invoiceRow)),
  next: idText.nullable(),
});
