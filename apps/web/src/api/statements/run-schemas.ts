import type { AccountId, StatementRunId } from '@grainwright/domain';
import { runAccountStates } from '@grainwright/operations';
import { z } from 'zod';
import { idOf, idText, momentText, monthText, wordsOf } from '../schemas.ts';

export const runParams = z.object({ id: idOf<StatementRunId>('run') });
export const runsQuery = z.object({
  before: idOf<StatementRunId>('run').optional().meta({ description: 'The `next` of the page before.' }),
});

export const askBody = z.object({
  id: idOf<StatementRunId>('run'),
  month: monthText,
  account_ids: z
    .array(idOf<AccountId>('account'))
    .max(1000)
    .nullable()
    .default(null)
    .meta({ description: 'Null: every account that gets statements by its terms.' }),
});

const head = {
  id: idText,
  month: monthText,
  all_accounts: z.boolean(),
  asked_by: z.string(),
  asked_at: momentText,
  finished: z.boolean().meta({ description: 'Nothing of it waits any more.' }),
  counts: z.object({
    waiting: z.int(),
    issued: z.int(),
    issued_before: z.int(),
    nothing_to_tell: z.int(),
    failed: z.int(),
  }),
};

export const runAnswer = z
  .object({
    ...head,
    mailed: z.int().meta({ description: 'How many of its statements have been mailed, or are about to be.' }),
    accounts: z.array(
      z.object({
        account_id: idText,
        short_name: z.string(),
        name: z.string(),
        state: z.enum(wordsOf(runAccountStates)),
        statement_id: idText.nullable(),
        problem: z.string().meta({ description: 'Why it failed and what to do; empty otherwise.' }),
        mailed: z.boolean(),
      }),
    ),
  })
  .meta({ id: 'StatementRun' });

export const runsAnswer = z.object({ runs: z.array(z.object(head)), next: idText.nullable() });

export const mailedAnswer = z.object({
  queued: z.int(),
  without_address: z.array(idText).meta({ description: 'Accounts that have no address to send theirs to.' }),
});
