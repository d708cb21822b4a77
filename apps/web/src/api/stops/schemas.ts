import type { AccountId, PersonId, SiteId, VisitId } from '@grainwright/domain';
import { z } from 'zod';
import { certificateWarningAnswer, dayText, idOf, idText } from '../schemas.ts';
import { row } from '../work-orders/schemas.ts';

export const dayQuery = z.object({ day: dayText.optional() });
export const todayQuery = dayQuery.extend({
  left: z.enum(['first', 'all']).optional().meta({
    description: 'How much is listed of what is left from earlier days: 20, or with “all” up to 200.',
  }),
});
export const stopParams = z.object({ id: idOf<VisitId>('visit') });

export const planBody = z.object({
  id: idOf<VisitId>('visit'),
  technician_id: idOf<PersonId>('technician who goes there; yourself where it is left out').optional(),
  account_id: idOf<AccountId>('account'),
  site_id: idOf<SiteId>('place of the account'),
  day: dayText,
  after_hours: z.boolean().default(false),
  rush: z.boolean().default(false),
});

export const droppedAnswer = z.object({ visit_id: idText });

export const orderBody = z.object({
  technician_id: idOf<PersonId>('technician whose day it is; yourself where it is left out').optional(),
  day: dayText,
  visit_ids: z
    .array(idOf<VisitId>('visit'))
    .max(60)
    .meta({ description: 'Every stop of that day, the first one first.' }),
});

export const orderedAnswer = z.object({ day: dayText, visit_ids: z.array(idText) });

const taskKinds = [
  'add_line',
  'price',
  'before_photo',
  'send',
  'await_approval',
  'await_hold',
  'start',
  'test_key',
  'after_photo',
  'finish',
  'put_right',
  'hand_over',
  'nothing',
] as const;

const stopWorkOrder = row.extend({
  next: z.enum(taskKinds),
  next_line_id: idText.nullable().meta({ description: 'The line that it is about.' }),
});

export const stopAnswer = z.object({
  visit_id: idText,
  day: dayText,
  position: z.int().meta({ description: 'Its place in the technician’s day, from 1.' }),
  technician: z.object({ id: idText, name: z.string() }),
  account: z.object({ id: idText, name: z.string() }),
  site: z.object({ id: idText, name: z.string(), address: z.string() }),
  after_hours: z.boolean(),
  rush: z.boolean(),
  phone: z.object({ name: z.string(), phone: z.string() }).nullable(),
  certificate_warning: certificateWarningAnswer,
  left: z.string().meta({ description: 'What is left to do there, in words; empty where nothing is.' }),
  work_orders: z.array(stopWorkOrder),
});

export const todayAnswer = z.object({
  day: dayText,
  stops: z.array(stopAnswer),
  left_from_earlier: z
    .object({ work_orders: z.array(stopWorkOrder), more: z.boolean() })
    .meta({ description: 'With today: what is open of the 30 days before, the oldest first.' }),
});

export const dayAnswer = z.object({
  day: dayText,
  technicians: z.array(z.object({ id: idText, name: z.string(), stops: z.array(stopAnswer) })),
});
