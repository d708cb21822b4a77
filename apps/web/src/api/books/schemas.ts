import type { MonthClosingId } from '@grainwright/domain';
import { z } from 'zod';
import { dayText, idOf, idText, momentText, monthText } from '../schemas.ts';

export const monthParams = z.object({ month: monthText });
export const closeBody = z.object({ id: idOf<MonthClosingId>('closing') });
export const reopenBody = z.object({ id: idOf<MonthClosingId>('reopening'), reason: z.string().max(600) });
export const csvAnswer = z.string().meta({ description: 'RFC 4180, with a header row.' });

export const monthAnswer = z
  .object({
    month: monthText,
    from: dayText,
    to: dayText,
    closed: z.boolean(),
    checks: z.array(
      z.object({
        name: z.enum([
          'ledger',
          'aging',
          'sales_tax',
          'unassigned_receipts',
          'to_invoice',
          'statements',
          'unapplied_credit',
          'disputed',
        ]),
        weight: z.enum(['must_hold', 'to_look_at']),
        holds: z.boolean(),
        detail: z.string(),
      }),
    ),
    not_yet: z.string().nullable().meta({ description: 'Why it can’t be closed now.' }),
    months: z.array(z.object({ month: monthText, postings: z.int(), closed: z.boolean() })),
    trail: z.array(
      z.object({
        id: idText,
        month: monthText,
        action: z.enum(['closed', 'reopened']),
        reason: z.string(),
        last_posting: z.string(),
        done_by: z.string(),
        done_at: momentText,
      }),
    ),
  })
  .meta({ id: 'MonthOfBooks' });
