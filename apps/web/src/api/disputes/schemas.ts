import {
  type AccountId,
  type CreditNoteId,
  type DisputeId,
  disputeAnswers,
  disputeReasons,
  type InvoiceId,
  type LineId,
} from '@grainwright/domain';
import { z } from 'zod';
import { dayText, idOf, idText, moneyText, wordsOf } from '../schemas.ts';

export const disputeBody = z.object({
  id: idOf<DisputeId>('dispute'),
  invoice_id: idOf<InvoiceId>('invoice'),
  line_id: idOf<LineId>('line')
    .nullable()
    .default(null)
    .meta({ description: 'The repair it is about; null for another charge, or an amount without a line.' }),
  amount: moneyText,
  reason: z
    .enum(wordsOf(disputeReasons))
    .meta({ description: 'A contact of the account says disputed or error.' }),
  note: z.string().max(4000).default(''),
  on: dayText.optional().meta({ description: 'The day the business learned of it; today unless given.' }),
});

export const answerBody = z.object({
  answer: z.enum(wordsOf(disputeAnswers)),
  credit_note_id: idOf<CreditNoteId>('credit note').nullable().default(null),
  note: z.string().max(4000).default(''),
});

export const disputeParams = z.object({ id: idOf<DisputeId>('dispute') });

export const disputesQuery = z.object({
  account_id: idOf<AccountId>('account').optional(),
  waiting: z
    .enum(['true', 'false'])
    .optional()
    .meta({ description: 'true: only those without an answer, on invoices that stand.' }),
  after: idOf<DisputeId>('dispute').optional().meta({ description: '`next` of the page before.' }),
});

export const disputeAnswer = z
  .object({
    id: idText,
    account_id: idText,
    account_name: z.string(),
    invoice_id: idText,
    invoice_number: z.string(),
    currency: z.string(),
    line_id: idText.nullable(),
    line_description: z.string().nullable(),
    amount: moneyText,
    reason: z.enum(wordsOf(disputeReasons)),
    note: z.string(),
    opened_on: dayText,
    opened_by: z.string(),
    by_contact: z.boolean(),
    days: z.int().meta({
      description: 'How long it has waited, or did until it was answered or its invoice was voided.',
    }),
    invoice_voided_on: dayText
      .nullable()
      .meta({ description: 'Null while the invoice stands; a void one leaves nothing to answer.' }),
    answer: z
      .object({
        answer: z.enum(wordsOf(disputeAnswers)),
        note: z.string(),
        answered_on: dayText,
        credit_note_id: idText.nullable(),
        credit_note_number: z.string().nullable(),
      })
      .nullable(),
  })
  .meta({ id: 'Dispute' });

export const disputesAnswer = z.object({ disputes: z.array(disputeAnswer), next: idText.nullable() });
