import { type DiscountId, type InvoiceId, type WriteOffId, writeOffKinds } from '@grainwright/domain';
import { z } from 'zod';
import { dayText, idOf, moneyText, wordsOf } from '../schemas.ts';

const on = dayText.optional().meta({ description: 'An earlier day of an open month; today unless given.' });

export const writeOffBody = z.object({
  id: idOf<WriteOffId>('write-off'),
  invoice_id: idOf<InvoiceId>('invoice'),
  amount: moneyText,
  kind: z.enum(wordsOf(writeOffKinds)),
  reason: z.string().max(1000).default('').meta({ description: 'May be empty for a small difference.' }),
  on,
});

export const recoveryBody = z.object({ reason: z.string().max(1000), on });

export const discountBody = z.object({
  id: idOf<DiscountId>('discount'),
  invoice_id: idOf<InvoiceId>('invoice'),
  amount: moneyText,
  reason: z.string().max(1000).meta({ description: 'What was agreed, such as 2 % within 10 days.' }),
  on,
});

export const voidBody = z.object({ reason: z.string().max(1000) });

export const writeOffParams = z.object({ id: idOf<WriteOffId>('write-off') });
