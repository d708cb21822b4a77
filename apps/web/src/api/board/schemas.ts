import { type AccountId, missingSignatureReasons, type PersonId } from '@grainwright/domain';
import type { BoardView } from '@grainwright/operations';
import { z } from 'zod';
import { dayText, idOf, idText, wordsOf } from '../schemas.ts';
import { answerRow } from '../work-orders/answers.ts';
import { row, waitsFor } from '../work-orders/schemas.ts';

export const boardQuery = z.object({
  account_id: idOf<AccountId>('account').optional(),
  technician_id: idOf<PersonId>('person').optional(),
});

export const boardAnswer = z.object({
  currency: z.string(),
  columns: z.array(
    z.object({
      waits_for: waitsFor,
      count: z.number().int(),
      cards: z
        .array(
          row.extend({
            account_id: idText,
            hold_reason: z.string().nullable(),
            not_signed: z
              .enum(wordsOf(missingSignatureReasons))
              .nullable()
              .meta({ description: 'Why nobody signed when acceptance was last asked for.' }),
            since: dayText.meta({ description: 'The day of its last step.' }),
            days: z.number().int(),
          }),
        )
        .meta({ description: 'Those that have waited longest, 12 at most.' }),
    }),
  ),
  technicians: z.array(z.object({ id: idText, name: z.string() })),
});

export function answerBoard(board: BoardView): z.input<typeof boardAnswer> {
  return {
    currency: board.currency,
    columns: board.columns.map(({ waitsFor: waits_for, count, cards }) => ({
      waits_for,
      count,
      cards: cards.map((card) => ({
        ...answerRow(card, board.currency),
        account_id: card.accountId,
        hold_reason: card.holdReason,
        not_signed: card.notSigned,
        since: card.since,
        days: card.days,
      })),
    })),
    technicians: board.technicians.map(({ id, name }) => ({ id, name })),
  };
}
