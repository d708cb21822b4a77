import type { DecisionId, LineId, PersonId, PhotoId, VersionId, WorkOrderId } from '@grainwright/domain';
import { z } from 'zod';
import { quoteAnswer, replacementAnswer } from '../quotes/quote-schemas.ts';
import { dayText, decimalText, idOf, idText, momentText, moneyText } from '../schemas.ts';
import { decision, increase } from '../work-orders/consent-schemas.ts';

const digestText = z
  .string()
  .regex(/^[0-9a-f]{64}$/)
  .meta({ description: 'The SHA-256 digest of the version that was shown, in hex.' });

const lineAnswer = z.object({
  line_id: idOf<LineId>('line'),
  answer: z.enum(['approved', 'declined']),
  reason: z.string().max(500).default(''),
});

export const workOrderParams = z.object({ id: idOf<WorkOrderId>('work order') });

export const previewBody = z.object({
  version_id: idOf<VersionId>('version seen'),
  digest: digestText,
  answers: z.array(lineAnswer).min(1).max(100),
});

export const decisionBody = previewBody.extend({
  id: idOf<DecisionId>('decision'),
  total: moneyText.meta({ description: 'The total that the preview of these answers showed.' }),
  photo_ids: z
    .array(idOf<PhotoId>('photo'))
    .max(400)
    .optional()
    .meta({ description: 'The photos that were shown with it; left out where that is not known.' }),
});

export const recordedDecisionBody = decisionBody.extend({
  decided_by: idOf<PersonId>('contact who gave the answer'),
  given: z.enum(['in_person', 'by_phone', 'in_writing']),
});

export const previewAnswer = z.object({
  version_id: idText,
  version: z.int(),
  digest: digestText,
  currency: z.string(),
  quotes: z.array(quoteAnswer),
  replacement: replacementAnswer,
  lines: z.array(
    z.object({
      line_id: idText,
      description: z.string(),
      answer: z.enum(['approved', 'declined']),
      reason: z.string(),
      offered: moneyText,
      net: moneyText.nullable(),
      further_percent: decimalText,
      trail: z.string(),
    }),
  ),
  repairs: moneyText.meta({ description: 'The approved lines and, where they are below it, their minimum.' }),
  minimum: moneyText,
  after_hours: moneyText,
  rush: moneyText,
  visit_minimum: moneyText,
  trip: moneyText,
  tax: moneyText,
  total: moneyText,
  offered_total: moneyText,
  compared_with_limit: moneyText.meta({ description: 'Repairs and after-hours, before trip and tax.' }),
  limit: moneyText.nullable(),
  answers_for: z
    .object({ name: z.string(), through: dayText })
    .nullable()
    .meta({ description: 'Who is away and whose limit it is; null for one’s own.' }),
  within_limit: z.boolean(),
  pass_to: z
    .object({ id: idText, name: z.string() })
    .nullable()
    .meta({ description: 'Above the limit: whom the answer can be passed on to.' }),
  expired: z.boolean(),
  increase: increase.nullable().meta({ description: 'Against what was approved of an earlier version.' }),
});

export const decisionAnswer = decision.extend({
  work_order_id: idText,
  state: z.enum(['approved', 'declined']),
});

export const toApproveQuery = z.object({
  after: z
    .string()
    .regex(/^\d{1,18}$/)
    .optional()
    .meta({ description: 'The number after which to go on: `next` of the page before.' }),
});

/** An estimate that waits for the account’s answer. */
export const estimateToAnswer = z.object({
  id: idText,
  number: z.string(),
  vehicle: z.string(),
  own_number_kind: z.string().nullable(),
  own_number: z.string(),
  ro_number: z.string(),
  po_number: z.string(),
  hold_reason: z.string().nullable(),
  lines: z.array(z.string()),
  photo_id: idText.nullable(),
  photo_count: z.int(),
  version: z.int(),
  currency: z.string(),
  total: moneyText,
  net: moneyText.meta({ description: 'Before tax.' }),
  quoted: moneyText
    .nullable()
    .meta({ description: 'What new parts would cost, fitted, before tax; null without a quote.' }),
  approved_before: moneyText.nullable().meta({ description: 'Total approved of an earlier version.' }),
  compared_with_limit: moneyText,
  within_limit: z.boolean(),
  asked_at: momentText,
  age_days: z.int(),
  expires_on: dayText,
  expired: z.boolean(),
});

export const toApproveAnswer = z.object({
  work_orders: z.array(estimateToAnswer),
  next: z.string().nullable(),
});
