import {
  type AccountId,
  damageKinds,
  type LineId,
  materials,
  methods,
  observationLabels,
  ownNumberKinds,
  partPositions,
  photoWarningCodes,
  recordingMediaTypes,
  type SiteId,
  type VehicleId,
  type VersionId,
  type VisitId,
  vehicleParts,
  type WaitsFor,
  type WorkOrderId,
  workOrderStates,
} from '@grainwright/domain';
import { z } from 'zod';
import { messagesAnswer } from '../messages/schemas.ts';
import { quoteAnswer, replacementAnswer } from '../quotes/quote-schemas.ts';
import { dayText, decimalText, idOf, idText, momentText, moneyText, wordsOf } from '../schemas.ts';
import { answeredAnswer } from './answered-schema.ts';
import { consent, decision } from './consent-schemas.ts';
import { photo } from './photo-schema.ts';
import { priceNotes } from './price-note-schemas.ts';
import { story } from './story-schemas.ts';

const state = z.enum(wordsOf(workOrderStates));
const waitsFors = [
  'technician',
  'hold',
  'approval',
  'po',
  'acceptance',
  'invoice',
  'money',
  'nobody',
] as const satisfies WaitsFor[];
export const waitsFor = z.enum(waitsFors).meta({
  description:
    '“po” stands for any number that the account demands on its invoice; “hold” for somebody to lift it.',
});
export const part = z.enum(wordsOf(vehicleParts));
export const side = z.enum(wordsOf(partPositions));
export const damage = z.enum(wordsOf(damageKinds));
export const observation = z.enum(wordsOf(observationLabels));
export const material = z.enum(wordsOf(materials));
const method = z.enum(wordsOf(methods));

export const workOrderParams = z.object({ id: idOf<WorkOrderId>('work order') });
export const lineParams = workOrderParams.extend({ line_id: idOf<LineId>('line') });

const typed = (lettersMax: number, description: string) =>
  z.string().max(lettersMax).default('').meta({ description });

const changeableWords = {
  own_number: typed(2000, 'The account’s own stock, unit, lot, job or claim number.'),
  ro_number: typed(2000, 'Repair order number.'),
  po_number: typed(2000, 'Purchase order number.'),
  owner_name: typed(1000, 'The vehicle’s owner, who is often not who pays.'),
  owner_phone: typed(1000, 'The owner’s phone.'),
  odometer_miles: z
    .union([z.number(), z.string().max(200)])
    .default('')
    .meta({ description: 'Whole miles.' }),
  replacement: typed(24, 'One quote for all damaged parts together, fitted, before tax, like "940.00".'),
  replacement_note: typed(2000, 'Who quoted it and what it is made of.'),
};

export const writeUpBody = z.object({
  id: idOf<WorkOrderId>('work order'),
  visit_id: idOf<VisitId>('visit, if this is its first vehicle').optional(),
  account_id: idOf<AccountId>('account that pays'),
  site_id: idOf<SiteId>('place of the account'),
  day: typed(60, 'The day of work, YYYY-MM-DD; today where it is left out.'),
  after_hours: z.boolean().default(false),
  rush: z.boolean().default(false).meta({ description: 'Asked for within the day: a visit of its own.' }),
  vin: typed(400, 'The 17 characters, or only the last 8; spaces and dashes are dropped.'),
  last_eight: typed(400, 'The last 8 of the VIN, which may stand alone.'),
  model_year: z
    .union([z.number(), z.string().max(200)])
    .default('')
    .meta({ description: 'Proposed from the VIN where it is left out.' }),
  make: typed(1000, 'Make.'),
  model: typed(1000, 'Model.'),
  color: typed(1000, 'Color.'),
  ...changeableWords,
  vehicle_id: idOf<VehicleId>('vehicle, where one was chosen out of those known').optional(),
  another_damage: z.boolean().default(false).meta({
    description:
      'Somebody has said that it is another damage than what was written up of this vehicle lately. Until then that is refused with “duplicate”.',
  }),
});

export const writtenUpAnswer = z.object({
  id: idText,
  number: z.string(),
  warnings: z
    .array(z.string())
    .meta({ description: 'Doubts about the VIN, and work still under warranty. They stop nothing.' }),
});

export const changeWriteUpBody = z.object({
  own_number: changeableWords.own_number.unwrap().optional(),
  ro_number: changeableWords.ro_number.unwrap().optional(),
  po_number: changeableWords.po_number.unwrap().optional(),
  owner_name: changeableWords.owner_name.unwrap().optional(),
  owner_phone: changeableWords.owner_phone.unwrap().optional(),
  odometer_miles: changeableWords.odometer_miles.unwrap().optional(),
  replacement: changeableWords.replacement.unwrap().optional(),
  replacement_note: changeableWords.replacement_note.unwrap().optional(),
});

export const givenNumbersBody = z.object({
  own_number: changeableWords.own_number,
  ro_number: changeableWords.ro_number,
  po_number: changeableWords.po_number,
});

export const lineBody = z.object({
  part,
  side: side.or(z.literal('')).default(''),
  damage,
  visible_when: typed(1000, 'When it can be seen: window up, seat forward, door closed.'),
  observation: observation.or(z.literal('')).default('').meta({
    description: 'What the heat test showed; empty where nothing was tested.',
  }),
  looks_like: material.or(z.literal('')).default('').meta({
    description: 'With “by_eye”, or where the damage was the test.',
  }),
  overruled_material: material.or(z.literal('')).default('').meta({
    description: 'The technician’s better knowledge; it needs a reason.',
  }),
  overrule_reason: typed(2000, 'Why it is another material than the test suggests.'),
  methods: z.array(method).max(30).default([]),
  measured_inches: typed(200, 'The measured size in inches, like "2.2". It picks the rate of the family.'),
  family: typed(200, 'The kind of repair, a family of the price book.'),
  rate_code: typed(60, 'One rate by its code, instead of the family.'),
  factor_code: typed(60, 'A care factor of the price book.'),
  by_hand_price: typed(200, 'A price by hand, where the price book has none. It needs a reason.'),
  by_hand_reason: typed(2000, 'Why it is priced by hand.'),
  by_hand_materials_percent: typed(200, 'Which percent of a price by hand is materials.'),
  note: typed(8000, 'Anything else.'),
});

const anotherDamage = z.boolean().default(false).meta({
  description:
    'Somebody has said that it is another damage than one of the same part that was written up lately.',
});

export const changeLineBody = lineBody.extend({ another_damage: anotherDamage });
export const addLineBody = changeLineBody.extend({ id: idOf<LineId>('line') });

export const submitBody = z.object({ id: idOf<VersionId>('estimate’s version') });

export const reviseBody = z.object({
  id: idOf<VersionId>('new version'),
  added: z.array(addLineBody).max(60).default([]),
  changed: z.array(addLineBody).max(60).default([]),
  removed: z.array(idOf<LineId>('line')).max(60).default([]),
  floor_reason: z.string().max(2000).default('').meta({
    description:
      'Why prices below the floor may be charged, where the owner of the business sends it: the owner consents with it.',
  }),
});

export const listQuery = z.object({
  state: state.optional(),
  waits_for: waitsFor.optional(),
  account_id: idOf<AccountId>('account').optional(),
  text: z.string().max(60).optional().meta({
    description: 'A number, a VIN or its last 8, or part of a stock, unit, job, RO or PO number.',
  }),
  below: z
    .string()
    .regex(/^\d{1,15}$/)
    .optional()
    .meta({ description: 'Where to go on: `next` of the page before.' }),
});

export const dayQuery = z.object({ day: dayText.optional() });

export const row = z.object({
  id: idText,
  number: z.string(),
  state,
  waits_for: waitsFor,
  account_name: z.string(),
  vehicle: z.string(),
  numbers: z.string(),
  technician: z.string(),
  day: dayText,
  repairs: moneyText.nullable(),
  question_open: z
    .boolean()
    .meta({ description: 'The last message is the account’s and nobody has answered it.' }),
});

export const listAnswer = z.object({ work_orders: z.array(row), next: z.string().nullable() });

export const choicesAnswer = z.object({
  currency: z.string(),
  families: z.array(
    z.object({
      family: z.string(),
      measured: z.boolean(),
      rates: z.array(
        z.object({
          code: z.string(),
          repair: z.string(),
          over_inches: decimalText.nullable(),
          to_inches: decimalText.nullable(),
          part: part.nullable().meta({ description: 'The only part it is for; null: any.' }),
          material: material.nullable().meta({ description: 'The only material it is for; null: any.' }),
          list: moneyText,
        }),
      ),
    }),
  ),
  factors: z.array(z.object({ code: z.string(), name: z.string(), percent: decimalText })),
});

const line = z.object({
  id: idText,
  position: z.int(),
  words: z.string(),
  part,
  side: side.nullable(),
  damage,
  visible_when: z.string(),
  observation: observation.nullable(),
  observed: z.string().meta({ description: 'What was observed, in words.' }),
  inferred: z.string().meta({ description: 'What is inferred from it, in words; never as certain.' }),
  looks_like: material.nullable(),
  overruled_material: material.nullable(),
  overrule_reason: z.string().nullable(),
  methods: z.array(method),
  measured_inches: decimalText.nullable(),
  family: z.string(),
  rate_code: z.string().nullable(),
  factor_code: z.string().nullable(),
  by_hand: z.object({ price: moneyText, reason: z.string(), materials_percent: decimalText }).nullable(),
  repair: z.string().nullable(),
  repairs_damage: z.boolean(),
  note: z.string(),
  unpriced: z.string().nullable().meta({ description: 'Why the line has no price yet.' }),
  answer: z.enum(['approved', 'declined']).nullable(),
  answer_reason: z.string(),
});

const estimate = z.object({
  version_id: idText.nullable().meta({ description: 'Null while the price is only shown at the vehicle.' }),
  version: z.int().nullable(),
  digest: z.string().nullable(),
  made_at: momentText.nullable(),
  expires_on: dayText.nullable(),
  lines: z.array(
    z.object({
      line_id: idText,
      code: z.string(),
      repair: z.string(),
      list: moneyText,
      before_further_repair: moneyText,
      further_percent: decimalText,
      net: moneyText,
      labor: moneyText,
      materials: moneyText,
      trail: z.string().meta({ description: 'Why this price: from list to net, in words.' }),
    }),
  ),
  repairs: moneyText.meta({ description: 'The lines and, where they are below it, the vehicle’s minimum.' }),
  minimum: moneyText,
  after_hours: moneyText,
  rush: moneyText,
  visit_minimum: moneyText.meta({
    description: 'As for this vehicle alone; an invoice charges it once a visit.',
  }),
  trip: moneyText,
  compared_with_limit: moneyText.meta({ description: 'Repairs and after-hours, before trip and tax.' }),
  net: moneyText.meta({ description: 'Before tax.' }),
  tax: moneyText,
  total: moneyText,
});

const recording = z.object({
  id: idText,
  kind: z.enum(['walk_around']),
  media_type: z.enum(recordingMediaTypes),
  sha256: z.string(),
  bytes: z.int(),
  seconds: z.int().nullable(),
  names_place: z.boolean().meta({
    description: 'It says where it was recorded: accounts get its picture and digest, the staff the file.',
  }),
  has_poster: z.boolean(),
  deleted_on: dayText.nullable().meta({ description: 'Since when only its digest is left, by a rule.' }),
  captured_at: momentText.nullable(),
  received_at: momentText,
});

const warnedPhoto = z.object({
  photo_id: idText,
  warnings: z.array(z.object({ code: z.enum(photoWarningCodes), sentence: z.string() })),
  retaken_by: idText.nullable(),
  kept_because: z.object({ reason: z.string(), by: z.string(), at: momentText }).nullable(),
});

export const workOrderAnswer = z
  .object({
    id: idText,
    number: z.string(),
    state,
    waits_for: waitsFor,
    hold_reason: z.string().nullable(),
    currency: z.string(),
    account: z.object({ id: idText, name: z.string(), short_name: z.string() }),
    site: z.object({ id: idText, name: z.string() }),
    visit: z.object({
      id: idText,
      day: dayText,
      after_hours: z.boolean(),
      rush: z.boolean(),
      walk_in: z.boolean(),
    }),
    technician: z.object({ id: idText, name: z.string() }),
    vehicle: z.object({
      id: idText,
      vin: z.string().nullable(),
      last_eight: z.string().nullable(),
      description: z.string(),
      written_as: z.string().nullable().meta({
        description:
          'The vehicle as it was written up, which its owner signs for, where that says something else than its record.',
      }),
    }),
    own_number_kind: z.enum(wordsOf(ownNumberKinds)).nullable(),
    own_number: z.string(),
    ro_number: z.string(),
    po_number: z.string(),
    missing_numbers: z
      .array(z.enum([...wordsOf(ownNumberKinds), 'purchase_order']))
      .meta({ description: 'Those that the account demands on its invoice and has not given.' }),
    numbers_asked: z
      .array(z.object({ on: dayText, name: z.string() }))
      .meta({ description: 'On which days who of the account was asked for them by mail; for staff.' }),
    owner: z.object({ name: z.string(), phone: z.string() }),
    odometer_miles: z.int().nullable(),
    quotes: z.array(quoteAnswer),
    replacement: replacementAnswer,
    lines: z.array(line),
    estimate: estimate.nullable(),
    deposit: z
      .object({ asked: moneyText, held: moneyText })
      .nullable()
      .meta({ description: 'What a retail customer is asked for in advance, and what is held already.' }),
    decision: decision.nullable(),
    ...consent,
    ...story,
    photos: z.array(photo),
    photo_warnings: z
      .array(warnedPhoto)
      .meta({ description: 'What was said against photos, and what became of it; for staff.' }),
    recordings: z.array(recording),
    acceptance: answeredAnswer.nullable(),
    answers: z.array(answeredAnswer).meta({ description: 'Every answer, the first one first.' }),
    invoice: z.object({ id: idText, number: z.string() }).nullable(),
    price_notes: priceNotes,
    messages: messagesAnswer,
    steps: z.array(
      z.object({
        event: z.string(),
        to_state: state,
        happened_at: momentText,
        person_name: z.string().nullable(),
        note: z.string(),
      }),
    ),
  })
  .meta({ id: 'WorkOrder' });
