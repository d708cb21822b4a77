import type { AccountId, MailId } from '@grainwright/domain';
import { z } from 'zod';
import { dayText, idOf, idText, momentText, moneyText, monthText } from '../schemas.ts';

export const accountParams = z.object({ id: idOf<AccountId>('account') });
export const statementParams = z.object({ id: idOf<AccountId>('account'), month: monthText });

const figures = {
  opening: moneyText,
  charges: moneyText,
  credits: moneyText,
  payments: moneyText,
  closing: moneyText.meta({ description: 'opening + charges − credits − payments.' }),
};

export const statementAnswer = z
  .object({
    account: z.object({ id: idText, name: z.string(), billing_address: z.string() }),
    currency: z.string(),
    month: monthText,
    from: dayText,
    to: dayText,
    posting: z.string().meta({ description: 'The last posting that it takes account of.' }),
    kind: z.enum(['open_item', 'balance_forward']),
    issued: z
      .object({ id: idText, sha256: z.string(), at: momentText })
      .nullable()
      .meta({ description: 'Null while it was not issued: it may still change.' }),
    sealed_day: z
      .object({
        day: dayText,
        root: z.string(),
        sha256: z.string(),
        unsealed: z.int().optional().meta({
          description:
            'How many of the account’s records up to that day are not under it; statements issued earlier don’t say.',
        }),
      })
      .nullable()
      .meta({ description: 'The newest sealed day when it was issued, as the statement prints it.' }),
    ...figures,
    entries: z.array(
      z.object({
        date: dayText,
        posting: z.string(),
        kind: z.enum(['charge', 'credit', 'payment']),
        description: z.string(),
        document: z.string(),
        their_numbers: z.string(),
        invoice_id: idText.nullable(),
        credit_note_id: idText.nullable(),
        amount: moneyText.meta({ description: 'What it does to the balance.' }),
      }),
    ),
    aging: z.object({
      as_of: dayText,
      basis: z.enum(['due_date', 'document_date']),
      items: z.array(
        z.object({
          invoice_id: idText,
          number: z.string(),
          issued_on: dayText,
          due_on: dayText,
          their_numbers: z.string(),
          amount: moneyText,
          settled: moneyText,
          open: moneyText,
          disputed: moneyText,
          days_past_due: z.int(),
          bucket: z.enum(['current', 'days_1_30', 'days_31_60', 'days_61_90', 'over_90']),
        }),
      ),
      buckets: z.object({
        current: moneyText,
        days_1_30: moneyText,
        days_31_60: moneyText,
        days_61_90: moneyText,
        over_90: moneyText,
      }),
      unapplied: moneyText,
      balance: moneyText,
    }),
    deposits_held: moneyText.meta({ description: 'No part of the balance.' }),
    replacement: z.object({ vehicles: z.int(), quoted: moneyText, repairs: moneyText }),
  })
  .meta({ id: 'Statement' });

export const statementsAnswer = z.object({
  account: z.object({ id: idText, name: z.string() }),
  currency: z.string(),
  months: z.array(z.object({ month: monthText, issued_at: momentText.nullable(), ...figures })),
});

export const mailBody = z.object({ id: idOf<MailId>('mail') });
export const queuedMailAnswer = z.object({ id: idText });
