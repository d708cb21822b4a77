import {
  type AccountId,
  type LegalHoldId,
  type RetentionPeriod,
  type RetentionRuleId,
  retentionKinds,
  type WorkOrderId,
} from '@grainwright/domain';
import type { LegalHoldView, RetentionView } from '@grainwright/operations';
import { z } from 'zod';
import { dayText, idOf, idText, momentText, wordsOf } from '../schemas.ts';

const kindText = z.enum(wordsOf(retentionKinds));
const periodAnswer = z
  .object({ period: z.int(), unit: z.enum(['days', 'years']) })
  .nullable()
  .meta({ description: 'Null: for good.' });

const setAnswer = z.object({ by: z.string(), at: momentText, reason: z.string() });

export const retentionQuery = z.object({
  on: dayText
    .optional()
    .meta({ description: 'The day to look at for the dry run, today or later; today where it is left out.' }),
});

export const retentionAnswer = z.object({
  is_on: z.boolean().meta({ description: 'Whether the rules delete; while they do not, everything stays.' }),
  turned: setAnswer.nullable().meta({ description: 'Who let the rules delete last, or stopped them.' }),
  kinds: z.array(
    z.object({
      kind: kindText,
      keeps: periodAnswer,
      set: setAnswer.nullable().meta({ description: 'Who set what counts, when and why.' }),
      waits: z
        .object({
          keeps: periodAnswer,
          from: momentText,
          set_by: z.string(),
          set_at: momentText,
          reason: z.string(),
        })
        .nullable()
        .meta({ description: 'What was set and does not count yet.' }),
    }),
  ),
  due: z
    .object({
      on: dayText,
      groups: z.array(
        z.object({
          kind: kindText,
          work_order_id: idText.nullable(),
          work_order_number: z.string().nullable(),
          account_id: idText.nullable(),
          account_name: z.string().nullable(),
          kept_through: dayText,
          count: z.int(),
          bytes: z.string(),
          held: z.boolean().meta({ description: 'A legal hold keeps it.' }),
        }),
      ),
      more: z.boolean(),
    })
    .meta({ description: 'A dry run: what would go on that day.' }),
  deleted: z.array(
    z.object({
      id: idText,
      kind: kindText,
      subject_id: idText,
      work_order_id: idText.nullable(),
      deleted_at: momentText,
      files: z.array(z.object({ what: z.string(), sha256: z.string(), bytes: z.string() })),
      removed_at: momentText.nullable(),
    }),
  ),
});

export function answerRetention(view: RetentionView): z.infer<typeof retentionAnswer> {
  const periodOf = (keeps: RetentionPeriod | null) => keeps && { period: keeps.period, unit: keeps.unit };
  return {
    is_on: view.isOn,
    turned: view.turned && { ...view.turned },
    kinds: view.kinds.map(({ kind, keeps, set, waits }) => ({
      kind,
      keeps: periodOf(keeps),
      set: set && { ...set },
      waits: waits && {
        keeps: periodOf(waits.keeps),
        from: waits.from,
        set_by: waits.setBy,
        set_at: waits.setAt,
        reason: waits.reason,
      },
    })),
    due: {
      on: view.due.on,
      more: view.due.more,
      groups: view.due.groups.map((group) => ({
        kind: group.kind,
        work_order_id: group.workOrderId,
        work_order_number: group.workOrderNumber?.toString() ?? null,
        account_id: group.accountId,
        account_name: group.accountName,
        kept_through: group.keptThrough,
        count: group.count,
        bytes: group.bytes.toString(),
        held: group.held,
      })),
    },
    deleted: view.deleted.map((each) => ({
      id: each.id,
      kind: each.kind,
      subject_id: each.subjectId,
      work_order_id: each.workOrderId,
      deleted_at: each.deletedAt,
      files: each.files.map(({ what, sha256, bytes }) => ({ what, sha256, bytes })),
      removed_at: each.removedAt,
    })),
  };
}

export const retentionRuleBody = z.object({
  id: idOf<RetentionRuleId>('rule'),
  kind: z.string().max(20),
  keep: z
    .object({ period: z.string().max(10), unit: z.string().max(10) })
    .nullable()
    .meta({ description: 'How long, like {"period": "7", "unit": "years"}; null: for good.' }),
  reason: z.string().max(2000).default(''),
});

export const switchBody = z.object({
  id: idOf('turn'),
  on: z.boolean(),
  reason: z.string().max(2000).default('').meta({ description: 'Why; needed to let the rules delete.' }),
});
export const switchAnswer = z.object({ on: z.boolean() });
export const madeAnswer = z.object({ id: idText });

export const holdBody = z.object({
  id: idOf<LegalHoldId>('hold'),
  work_order_id: idOf<WorkOrderId>('work order').nullable().default(null),
  account_id: idOf<AccountId>('account').nullable().default(null),
  reason: z.string().max(2000),
});
export const holdParams = z.object({ id: idOf<LegalHoldId>('hold') });
export const holdEndBody = z.object({ reason: z.string().max(2000) });

export const holdsAnswer = z.array(
  z.object({
    id: idText,
    work_order_id: idText.nullable(),
    account_id: idText.nullable(),
    reason: z.string(),
    placed_by: z.string(),
    placed_at: momentText,
    ended: z.object({ at: momentText, reason: z.string() }).nullable(),
  }),
);

export function answerHolds(holds: readonly LegalHoldView[]): z.infer<typeof holdsAnswer> {
  return holds.map((hold) => ({
    id: hold.id,
    work_order_id: hold.workOrderId,
    account_id: hold.accountId,
    reason: hold.reason,
    placed_by: hold.placedByName,
    placed_at: hold.placedAt,
    ended: hold.ended && { at: hold.ended.at, reason: hold.ended.reason },
  }));
}
