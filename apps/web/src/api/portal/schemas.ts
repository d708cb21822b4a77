import type { HandedInId } from '@grainwright/domain';
import { z } from 'zod';
import { standingApproval } from '../accounts/agreement-schemas.ts';
import { estimateToAnswer } from '../decisions/schemas.ts';
import { delegationAnswer } from '../delegations/schemas.ts';
import { disputeAnswer } from '../disputes/schemas.ts';
import {
  certificateWarningAnswer,
  dayText,
  decimalText,
  idOf,
  idText,
  momentText,
  moneyText,
} from '../schemas.ts';
import { purchaseOrder } from '../work-orders/consent-schemas.ts';

const certificateKind = z.enum(['resale', 'exempt_use']);

export const handInBody = z.object({
  id: idOf<HandedInId>('certificate handed in'),
  kind: certificateKind,
  number: z.string().max(200),
  valid_from: dayText,
  valid_to: dayText.nullable().default(null),
});

export const handedInAnswer = z
  .object({
    id: idText,
    account_id: idText,
    account_name: z.string(),
    kind: certificateKind,
    number: z.string(),
    valid_from: dayText,
    valid_to: dayText.nullable(),
    handed_in_by: z.string(),
    handed_in_at: momentText,
    standing: z
      .enum(['to_check', 'confirmed', 'not_taken'])
      .meta({ description: 'Nothing is exempt by it until it is confirmed.' }),
    checked_by: z.string().nullable(),
    checked_at: momentText.nullable(),
    reason: z.string().meta({ description: 'Why it was not taken, for the account to read.' }),
  })
  .meta({ id: 'HandedInCertificate' });

export const handedInListAnswer = z.object({ handed_in: z.array(handedInAnswer) });
export const handedInParams = z.object({ id: idOf<HandedInId>('certificate handed in') });
export const checkBody = z.object({
  answer: z.enum(['confirmed', 'not_taken']),
  reason: z.string().max(2000).default(''),
});

const finishedVehicle = {
  work_order_id: idText,
  work_order_number: z.string(),
  vehicle: z.string(),
  own_number: z.string(),
  ro_number: z.string(),
  po_number: z.string(),
  finished_on: dayText.nullable(),
  days: z.int().meta({ description: 'Days since the work was finished.' }),
};

export const needsAnswer = z
  .object({
    currency: z.string(),
    nothing: z.boolean(),
    estimates: z.array(estimateToAnswer).meta({ description: 'The first few; all of them: /to-approve.' }),
    estimate_count: z.int(),
    numbers: z.array(
      z.object({
        ...finishedVehicle,
        missing: z.array(z.string()).meta({ description: 'The invoice can’t be issued without them.' }),
      }),
    ),
    purchase_orders: z.array(
      z.object({
        id: idText,
        number: z.string(),
        cap: moneyText,
        left: moneyText,
        approved: moneyText.meta({ description: 'Approved on it and not invoiced yet, with tax.' }),
        short: moneyText.meta({ description: 'What the cap is short of.' }),
        work_orders: z.int(),
      }),
    ),
    certificate: z
      .object({
        warning: certificateWarningAnswer,
        taxed_from: dayText,
        not_taken: z.string().meta({ description: 'Why the latest one handed in was not taken.' }),
      })
      .nullable(),
    acceptances: z.array(z.object(finishedVehicle)),
    disputes: z.array(disputeAnswer),
    past_due: z.array(
      z.object({ invoice_id: idText, number: z.string(), due_on: dayText, days: z.int(), open: moneyText }),
    ),
  })
  .meta({ id: 'Needs' });

export const ownAccountAnswer = z
  .object({
    id: idText,
    name: z.string(),
    billing_address: z.string(),
    terms_days: z.int(),
    statement_kind: z.string(),
    statement_email: z.string(),
    invoice_rule: z.string(),
    requires_ro: z.boolean(),
    requires_po: z.boolean(),
    own_number_kind: z.string().nullable(),
    own_number_required: z.boolean(),
    acceptance_rule: z.string(),
    no_show_fee: moneyText.nullable(),
    remind_after_hours: z.int().nullable(),
    opened_on: dayText,
    ended_on: dayText.nullable(),
    people: z.array(
      z.object({
        person_id: idText,
        name: z.string(),
        role: z.enum(['approver', 'payer', 'viewer']),
        limit: moneyText.nullable().meta({ description: 'Null: no limit, or not somebody who approves.' }),
        ended_on: dayText.nullable(),
      }),
    ),
    sites: z.array(z.object({ id: idText, name: z.string(), address: z.string() })),
    standing_approvals: z.array(standingApproval),
    purchase_orders: z.array(purchaseOrder),
    delegations: z.array(delegationAnswer),
    certificates: z.array(
      z.object({
        id: idText,
        kind: certificateKind,
        number: z.string(),
        valid_from: dayText,
        valid_to: dayText.nullable(),
        standing: z.enum(['not_yet', 'valid', 'ended']),
      }),
    ),
    certificate_warning: certificateWarningAnswer,
    handed_in: z
      .array(handedInAnswer)
      .meta({ description: 'What is not filed: it waits for the business, or was not taken.' }),
  })
  .meta({ id: 'OwnAccount' });

export const remindersBody = z.object({
  remind_after_hours: z
    .number()
    .nullable()
    .meta({ description: 'After so many hours without an answer, 1 to 720; null: never.' }),
});

export const savingsQuery = z.object({ from: dayText, to: dayText });
export const savingsAnswer = z
  .object({
    currency: z.string(),
    from: dayText,
    to: dayText,
    vehicles: z.int().meta({ description: 'Invoiced in the period, with a quote for a new part.' }),
    quoted: moneyText,
    repairs: moneyText.meta({ description: 'Of these vehicles, before after-hours, trip and tax.' }),
    saved: moneyText.nullable(),
    percent: decimalText.nullable(),
  })
  .meta({ id: 'Savings' });
