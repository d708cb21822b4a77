import { z } from 'zod';
import { dayText, decimalText, idText, momentText, moneyText } from '../schemas.ts';

const compared = {
  vehicle: moneyText.meta({ description: 'Repairs and after-hours of this vehicle, before trip and tax.' }),
  visit: moneyText.meta({ description: 'With what was approved by rule of the same visit before.' }),
  month: moneyText.meta({ description: 'With what was approved by rule in the same calendar month before.' }),
};

export const decision = z.object({
  id: idText,
  version_id: idText,
  decided_by: z
    .string()
    .nullable()
    .meta({ description: 'Null where nobody of the account had to be asked.' }),
  answered_for: z
    .object({ name: z.string(), through: dayText })
    .nullable()
    .meta({ description: 'In whose place, and until which day; null for an answer of one’s own.' }),
  decided_at: momentText,
  given: z.enum(['here', 'by_link', 'in_person', 'by_phone', 'in_writing', 'by_rule', 'without_charge']),
  rule: z.object({ standing_approval_id: idText, text: z.string(), ...compared }).nullable(),
  repairs: moneyText,
  minimum: moneyText,
  after_hours: moneyText,
  rush: moneyText,
  visit_minimum: moneyText,
  trip: moneyText,
  tax: moneyText,
  total: moneyText,
  lines: z.array(
    z.object({
      line_id: idText,
      answer: z.enum(['approved', 'declined']),
      reason: z.string(),
      net: moneyText,
      labor: moneyText,
      materials: moneyText,
      trail: z.string(),
    }),
  ),
});

export const increase = z.object({
  approved_total: moneyText,
  new_total: moneyText,
  difference: moneyText.meta({ description: 'Below zero for a decrease.' }),
  percent: decimalText.nullable(),
});

export const purchaseOrder = z.object({
  id: idText,
  number: z.string(),
  cap: moneyText.nullable().meta({ description: 'What all invoices with this number may come to.' }),
  invoiced: moneyText.meta({ description: 'With tax, less credits.' }),
  left: moneyText.nullable().meta({ description: 'Negative where more was invoiced; null without a cap.' }),
  valid_from: dayText,
  valid_to: dayText.nullable(),
  note: z.string(),
  standing: z.enum(['not_yet', 'valid', 'ended']),
});

/** What was agreed to before, by rule, by the last approval and by the account’s numbers. */
export const consent = {
  standing: z
    .object({
      text: z.string(),
      ...compared,
      exceeded: z.array(
        z.object({
          limit: z.enum(['vehicle', 'visit', 'month']),
          limit_amount: moneyText,
          reached: moneyText,
          over: moneyText,
        }),
      ),
      answered_by_person: z.boolean(),
      covers: z.boolean().meta({ description: 'Whether it would be approved without asking if sent now.' }),
    })
    .nullable(),
  increase: increase
    .extend({ approved_at: momentText, approved_by: z.string().nullable() })
    .nullable()
    .meta({ description: 'What an approved total has become; what was declined before is left out of it.' }),
  purchase_order: purchaseOrder.nullable(),
  earlier_with_ro: z
    .array(
      z.object({
        invoice_id: idText,
        invoice_number: z.string(),
        issued_on: dayText,
        work_order_id: idText,
        work_order_number: z.string(),
      }),
    )
    .meta({ description: 'Invoices that carry the same repair order for another vehicle already.' }),
};
