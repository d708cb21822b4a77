import {
  type KeyTestId,
  type LineId,
  type PhotoId,
  reworkReasons,
  type SiteId,
  type StopPointId,
  type VisitId,
  voidReasons,
  type WorkOrderId,
  workOrderStates,
} from '@grainwright/domain';
import { z } from 'zod';
import { dayText, idOf, idText, moneyText, wordsOf } from '../schemas.ts';

const state = z.enum(wordsOf(workOrderStates));
const typed = (lettersMax: number) => z.string().max(lettersMax).default('');

export const voidBody = z.object({
  reason: z.enum(wordsOf(voidReasons)).meta({
    description: 'A technician may say “vehicle_not_there” of their own visit; the office says the others.',
  }),
  note: typed(2000),
  duplicate_of_id: idOf<WorkOrderId>('work order that stays').nullable().default(null),
});

export const voidedAnswer = z.object({
  state,
  no_show_fee: moneyText.nullable().meta({ description: 'By the account’s terms; null without such a fee.' }),
});

export const holdBody = z.object({ reason: typed(2000) });
export const heldAnswer = z.object({ state, hold_reason: z.string().nullable() });

export const reworkBody = z.object({
  id: idOf<WorkOrderId>('rework'),
  visit_id: idOf<VisitId>('visit, if this is its first vehicle').optional(),
  site_id: idOf<SiteId>('place; that of the first order where it is left out').optional(),
  reason: z.enum(wordsOf(reworkReasons)),
  day: z.string().max(10).default('').meta({ description: 'YYYY-MM-DD; today where it is left out.' }),
  after_hours: z.boolean().default(false),
  rush: z.boolean().default(false),
});

const earlierWork = z.object({
  id: idText,
  number: z.string(),
  state,
  day: dayText,
  account_name: z.string(),
  own_number: z.string(),
  vehicle: z.string(),
  technician: z.string(),
  lines: z.array(z.string()),
  maybe_duplicate: z
    .boolean()
    .meta({ description: 'So lately that the same part may be one damage written up twice.' }),
  maybe_comeback: z.boolean().meta({
    description: 'Work of this account within the warranty, that may be put right without charge.',
  }),
  before_photo_id: idText.nullable(),
  after_photo_id: idText.nullable(),
});

export const earlierAnswer = z.object({ earlier: z.array(earlierWork) });

const step = z.enum(['', 'pass', 'fail', 'not_fitted']).default('');

export const keyTestBody = z.object({
  id: idOf<KeyTestId>('sheet'),
  line_id: idOf<LineId>('line'),
  battery: step,
  coating: step,
  lock: step,
  unlock: step,
  trunk: step,
  horn: step.meta({ description: 'Empty: not tested. Lock to horn may be “not_fitted”.' }),
});

export const keyTestedAnswer = z.object({ verdict: z.enum(['passed', 'failed', 'unfinished']) });

export const stopPointBody = z.object({
  id: idOf<StopPointId>('stop point'),
  line_id: idOf<LineId>('line'),
  photo_id: idOf<PhotoId>('picture, taken of that line as a stop point'),
  note: z.string().max(2000),
  shown: z
    .boolean()
    .default(false)
    .meta({ description: 'Whether the account and the vehicle’s owner see it.' }),
});

export const stopPointAnswer = z.object({ id: idText });
