import {
  acceptanceOutcomes,
  keyResults,
  lampStates,
  missingSignatureReasons,
  reworkReasons,
  voidReasons,
  workOrderStates,
} from '@grainwright/domain';
import { z } from 'zod';
import { dayText, idText, momentText, moneyText, wordsOf } from '../schemas.ts';

const state = z.enum(wordsOf(workOrderStates));
const reason = z.enum(wordsOf(reworkReasons));
const result = z.enum(wordsOf(keyResults)).nullable();
const lamp = z.enum(wordsOf(lampStates)).nullable();
const named = { id: idText, number: z.string(), state, day: dayText };

/** What happened to work besides being done and paid, as it stands in the answer about a work order. */
export const story = {
  voided: z
    .object({
      reason: z.enum(wordsOf(voidReasons)).nullable(),
      note: z.string(),
      duplicate_of: z.object(named).nullable(),
      no_show_fee: moneyText.nullable(),
    })
    .nullable(),
  rework_of: z
    .object({ ...named, reason })
    .nullable()
    .meta({
      description: 'The first order, where this puts it right without charge.',
    }),
  came_back: z.array(z.object({ ...named, reason })).meta({ description: 'What came back of it.' }),
  not_signed: z.array(
    z.object({
      id: idText,
      why: z.enum(wordsOf(missingSignatureReasons)),
      reason: z.string(),
      witness: z.string(),
      recorded_by: z.string(),
      recorded_at: momentText,
      released: z.object({ by: z.string(), at: momentText, reason: z.string() }).nullable(),
    }),
  ),
  stop_points: z.array(
    z.object({ id: idText, line_id: idText, photo_id: idText, note: z.string(), shown: z.boolean() }),
  ),
  key_tests: z.array(
    z.object({
      id: idText,
      line_id: idText,
      battery: result,
      coating: result,
      lock: result,
      unlock: result,
      trunk: result,
      horn: result,
      verdict: z.enum(['passed', 'failed', 'unfinished']),
      tested_at: momentText,
    }),
  ),
  owner_links: z
    .array(
      z.object({
        id: idText,
        owner_name: z.string(),
        phone: z.string(),
        email: z.string(),
        made_by: z.string(),
        made_at: momentText,
        last_day: dayText,
        stands: z.enum(['open', 'answered', 'taken_back', 'no_answer']),
        outcome: z.enum(wordsOf(acceptanceOutcomes)).nullable(),
      }),
    )
    .meta({
      description: 'Links to the vehicle’s owner, the latest first; none for the business’s customers.',
    }),
  costs: z
    .object({ technician_minutes: z.int().nullable(), materials_cost: moneyText.nullable() })
    .nullable()
    .meta({ description: 'What the work cost the business; null for its customers.' }),
  airbag_lamp_before: lamp,
  airbag_lamp_after: lamp,
};
