import type { AccountId, PriceDraftId } from '@grainwright/domain';
import { z } from 'zod';
import { dayText, decimalText, idOf, idText, momentText, moneyText } from '../schemas.ts';

const words = z.string().max(400);
const word = z.string().max(60);
const revision = z.number().int().min(1).meta({ description: 'Of the list that was read.' });

export const draftParams = z.object({ id: idOf<PriceDraftId>('price list') });
export const triedAccountParams = draftParams.extend({ account: idOf<AccountId>('account') });
export const onQuery = z.object({ on: dayText.optional() });

const row = {
  code: z.string().max(40),
  repair: words,
  family: words,
  over_inches: decimalText.nullable().default(null),
  to_inches: decimalText.nullable().default(null),
  part: word.nullable().default(null).meta({ description: 'The only part it is for; null: any.' }),
  material: word.nullable().default(null).meta({ description: 'The only material it is for; null: any.' }),
  list: moneyText,
  materials_percent: decimalText,
  takes_further_repair: z.boolean(),
  repairs_damage: z.boolean(),
};

export const startDraftBody = z.object({
  id: idOf<PriceDraftId>('price list'),
  name: words,
  counts_from: dayText.meta({ description: 'The first day its prices would count.' }),
  copied_from: dayText
    .nullable()
    .default(null)
    .meta({ description: 'The day whose list it starts from; null: the day it counts from.' }),
});

export const saveDraftBody = z.object({
  revision,
  name: words,
  counts_from: dayText,
  rates: z
    .array(z.object(row))
    .max(2000)
    .meta({ description: 'The whole list. What is not in it ends the day before the list counts.' }),
});

export const importDraftBody = z.object({
  revision,
  csv: z.string().meta({ description: 'RFC 4180 with a header row, the columns of list.csv; 1 MB at most.' }),
});

export const endDraftBody = z.object({ revision });
export const acceptChangesBody = endDraftBody.extend({
  book: z.string().max(64).meta({ description: 'The `book` of the draft that was read.' }),
});
export const revisionAnswer = z.object({ revision: z.number().int() });
export const importedAnswer = revisionAnswer.extend({ rates: z.number().int() });
export const draftIdAnswer = z.object({ id: idText });
export const acceptedChangesAnswer = draftIdAnswer.extend(revisionAnswer.shape);

const head = {
  id: idText,
  name: z.string(),
  counts_from: dayText,
  copied_from: dayText,
  state: z.enum(['open', 'published', 'discarded']),
  revision: z.number().int(),
  started_by: z.string(),
  started_at: momentText,
  ended_by: z.string().nullable().meta({ description: 'Who put it into force or discarded it.' }),
  ended_at: momentText.nullable(),
};

export const draftsAnswer = z.object({
  drafts: z.array(
    z.object({ ...head, rates: z.number().int().meta({ description: 'How many there are.' }) }),
  ),
});

const listedAnswer = z.object({
  ...row,
  over_inches: decimalText.nullable(),
  to_inches: decimalText.nullable(),
  part: z.string().nullable(),
  material: z.string().nullable(),
  labor: moneyText.meta({ description: 'What of the list price is labor; the rest is materials.' }),
  materials: moneyText,
});

export const draftAnswer = z.object({
  ...head,
  currency: z.string(),
  rates: z.array(listedAnswer),
  changes: z
    .object({
      changed: z.array(z.object({ before: listedAnswer, after: listedAnswer })),
      added: z.array(z.string()),
      ended: z.array(z.string()),
    })
    .meta({ description: 'Against the list in force on the day it counts from, as it stands now.' }),
  gaps: z
    .array(z.object({ below: z.string(), above: z.string() }))
    .meta({ description: 'Codes of a family between which sizes have no price.' }),
  moved: z
    .array(z.string())
    .meta({ description: 'Codes that changed in the price book since the draft was begun.' }),
  book: z
    .string()
    .meta({ description: 'The price book that it was compared with, to go on though it changed.' }),
  not_taken: z.array(z.object({ code: z.string(), detail: z.string() })).meta({
    description:
      'New codes that counted before or are to count later: the list can’t be put into force with them.',
  }),
});

const sums = {
  work_orders: z.number().int(),
  repairs_before: moneyText,
  repairs_after: moneyText,
  difference: moneyText,
  difference_percent: decimalText.nullable().meta({ description: 'Null where there was nothing before.' }),
  with_visits_before: moneyText.meta({
    description: 'With trip, after hours and whatever a visit adds, before tax.',
  }),
  with_visits_after: moneyText,
  lines_by_hand: z
    .number()
    .int()
    .meta({ description: 'Lines that the list has no price for: counted at their old one.' }),
  work_orders_kept: z.number().int().meta({
    description: 'Work orders whose price can’t be worked out again: counted at their old one.',
  }),
};

export const trialAnswer = z.object({
  from: dayText,
  to: dayText,
  currency: z.string(),
  left_out: z.boolean().meta({ description: 'There was more work than is tried; the newest was taken.' }),
  total: z.object(sums),
  accounts: z.array(z.object({ account_id: idText, name: z.string(), ...sums })),
});

export const triedAccountAnswer = z.object({
  from: dayText,
  to: dayText,
  currency: z.string(),
  account_id: idText,
  name: z.string(),
  ...sums,
  changed: z.array(
    z.object({
      work_order_id: idText,
      number: z.string(),
      day: dayText,
      vehicle: z.string(),
      repairs_before: moneyText,
      repairs_after: moneyText,
      lines: z.array(
        z.object({
          line_id: idText,
          label: z.string(),
          before: moneyText,
          before_trail: z.string(),
          after: moneyText,
          after_trail: z.string(),
          by_hand: z.boolean(),
        }),
      ),
    }),
  ),
});
