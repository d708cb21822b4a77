import type {
  ApprovalAskId,
  DecisionId,
  PassedOnId,
  PersonId,
  PhotoId,
  VersionId,
  WorkOrderId,
} from '@grainwright/domain';
import { z } from 'zod';
import { previewBody } from '../decisions/schemas.ts';
import { dayText, idOf, idText, momentText, moneyText } from '../schemas.ts';
import { decision } from '../work-orders/consent-schemas.ts';

export const askBody = z.object({
  id: idOf<ApprovalAskId>('question'),
  person_id: idOf<PersonId>('approver who is asked'),
});
export const askedAnswer = z.object({ id: idText });

const passedOn = z.object({
  id: idText,
  version_id: idText,
  passed_by: z.object({ id: idText, name: z.string() }),
  passed_to: z
    .object({ id: idText, name: z.string() })
    .nullable()
    .meta({ description: 'Null: nobody of the account who can be mailed may approve as much.' }),
  passed_at: momentText,
  compared_with_limit: moneyText,
  limit: moneyText,
  total: moneyText,
  answers: z.array(
    z.object({ line_id: idText, answer: z.enum(['approved', 'declined']), reason: z.string() }),
  ),
});

export const asksAnswer = z.object({
  asks: z.array(
    z.object({
      id: idText,
      version_id: idText,
      person_id: idText,
      person_name: z.string(),
      why: z.enum(['first', 'above_limit', 'passed_on', 'asked_again', 'delegate']),
      asked_at: momentText,
    }),
  ),
  passed_on: z.array(passedOn).meta({ description: 'Of the version that stands, the latest first.' }),
  nobody: z.string().nullable().meta({ description: 'Why no mail can bring an answer; null while one can.' }),
});

export const passOnBody = previewBody.extend({
  id: idOf<PassedOnId>('passing on'),
  total: moneyText.meta({ description: 'The total that the preview of these answers showed.' }),
});
export const passedOnAnswer = passedOn;

export const approvalsBody = z.object({
  estimates: z
    .array(
      z.object({
        id: idOf<DecisionId>('decision'),
        work_order_id: idOf<WorkOrderId>('work order'),
        version_id: idOf<VersionId>('version seen'),
        digest: z.string().regex(/^[0-9a-f]{64}$/),
        total: moneyText,
        photo_ids: z.array(idOf<PhotoId>('photo seen')).max(400).optional(),
      }),
    )
    .min(1)
    .max(50),
});

export const approvalsAnswer = z.object({
  results: z.array(
    z.object({
      work_order_id: idText,
      decision: decision.nullable(),
      problem: z.object({ code: z.string(), detail: z.string() }).nullable(),
    }),
  ),
});

export const askOrderBody = z.object({
  person_ids: z.array(idOf<PersonId>('approver')).min(1).max(300),
});

export const decisionRecordAnswer = z.object({
  work_order_id: idText,
  currency: z.string(),
  decision,
  version: z.object({ number: z.int(), content: z.string(), digest: z.string() }),
  link_id: idText.nullable(),
  seen: z
    .object({ content: z.string(), digest: z.string() })
    .nullable()
    .meta({ description: 'Canonical JSON and its SHA-256 digest; null where it is not known.' }),
  recorded_by: z.string().nullable(),
  mismatches: z.array(z.string()).meta({
    description: 'What on record is not as it was when the answer was given; none where all of it matches.',
  }),
});

export const versionsAnswer = z.object({
  versions: z.array(
    z.object({
      id: idText,
      number: z.int(),
      sent_at: momentText,
      sent_by: z.string().nullable(),
      currency: z.string(),
      total: moneyText,
      stands: z.enum(['waits', 'answered', 'superseded']),
      decision_id: idText.nullable(),
      decided_at: momentText.nullable(),
      decided_by: z.string().nullable(),
    }),
  ),
});

export const linkedEstimatesAnswer = z.object({
  person: z.string(),
  account: z.string(),
  business: z.string(),
  estimates: z.array(
    z.object({
      work_order_id: idText,
      number: z.string(),
      vehicle: z.string(),
      state: z.string(),
      version_id: idText.nullable(),
      digest: z.string().nullable(),
      expires_on: dayText.nullable(),
      currency: z.string(),
      total: moneyText.nullable(),
      lines: z.array(z.object({ line_id: idText, words: z.string(), offered: moneyText })),
      photo_ids: z.array(idText),
      missing_numbers: z.array(z.string()),
    }),
  ),
});
