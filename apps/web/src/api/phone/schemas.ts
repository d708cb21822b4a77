import { photoPurposes, photoWarningCodes, staffRoles, workOrderStates } from '@grainwright/domain';
import type { PhoneSnapshot } from '@grainwright/operations';
import { z } from 'zod';
import { dayText, idText, momentText, wordsOf } from '../schemas.ts';

/**
 * What a phone takes along, as one document: it is kept on the phone as it comes, and read there by this schema again.
 * Its names are the document's own, as those of what is signed.
 */
const rules = z.object({
  photoRule: z.enum(['retail', 'trade', 'lot']),
  acceptanceRule: z.enum(['none', 'vehicle_owner', 'account_representative']),
  showsPricesAtAcceptance: z.boolean(),
  standing: z.string().nullable().meta({
    description: 'What the account agreed to beforehand, in words; null: a person has to be asked.',
  }),
});

const ownNumberKind = z.enum(['stock', 'unit', 'lot', 'job', 'claim']);

const stop = z.object({
  visitId: idText,
  day: dayText,
  position: z.int(),
  accountId: idText,
  accountName: z.string(),
  siteId: idText,
  siteName: z.string(),
  siteAddress: z.string(),
  afterHours: z.boolean(),
  rush: z.boolean(),
  phone: z.object({ name: z.string(), phone: z.string() }).nullable(),
});

const place = z.object({
  accountId: idText,
  accountName: z.string(),
  accountKind: z.string(),
  siteId: idText,
  siteName: z.string(),
  siteAddress: z.string(),
  ownNumberKind: ownNumberKind.nullable(),
  ownNumberRequired: z.boolean(),
  requiresRo: z.boolean(),
  requiresPo: z.boolean(),
  openedOn: dayText,
  endedOn: dayText.nullable(),
  rules,
});

const repair = z.object({
  family: z.string(),
  measured: z.boolean(),
  repairsDamage: z.boolean(),
  rates: z.array(
    z.object({
      code: z.string(),
      repair: z.string(),
      overInches: z.string().nullable(),
      toInches: z.string().nullable(),
      part: z.string().nullable(),
      material: z.string().nullable(),
      listMinor: z.string().meta({ description: 'At list, in minor units of the currency.' }),
    }),
  ),
});

const line = z.object({
  id: idText,
  part: z.string(),
  side: z.string(),
  damage: z.string(),
  observation: z.string(),
  material: z.string(),
  overruleReason: z.string().nullable(),
  methods: z.array(z.string()),
  family: z.string(),
  repairsDamage: z.boolean(),
  layers: z.int().nullable(),
  measuredInches: z.string().nullable(),
  answer: z.enum(['approved', 'declined']).nullable(),
  keyTest: z.enum(['passed', 'failed', 'unfinished']).nullable(),
  billedBand: z.object({ overInches: z.string(), toInches: z.string() }).nullable(),
});

const purpose = z.enum(wordsOf(photoPurposes));

const warned = z.object({
  id: idText,
  lineId: idText.nullable(),
  purpose,
  warnings: z.array(z.object({ code: z.enum(photoWarningCodes), sentence: z.string() })),
  retakenBy: idText.nullable(),
  override: z.object({ reason: z.string(), madeBy: z.string(), madeAt: momentText }).nullable(),
});

const workOrder = z.object({
  id: idText,
  number: z.string().nullable(),
  state: z.enum(wordsOf(workOrderStates)),
  holdReason: z.string().nullable(),
  accountId: idText,
  accountName: z.string(),
  accountKind: z.string(),
  rules,
  visitId: idText,
  day: dayText,
  vehicle: z.object({
    vin: z.string().nullable(),
    lastEight: z.string().nullable(),
    modelYear: z.int().nullable(),
    make: z.string(),
    model: z.string(),
    color: z.string(),
  }),
  ownNumberKind: ownNumberKind.nullable(),
  ownNumber: z.string(),
  roNumber: z.string(),
  poNumber: z.string(),
  ownerName: z.string(),
  isRework: z.boolean(),
  versionId: idText.nullable(),
  lines: z.array(line),
  photos: z.array(z.object({ id: idText, lineId: idText.nullable(), purpose, sha256: z.string() })),
  warned: z.array(warned).meta({ description: 'What was said against photos, and what became of it.' }),
  recorded: z.array(purpose),
  stopPoints: z.array(z.object({ lineId: idText, photoId: idText, note: z.string() })),
  releasedLines: z.array(idText),
  testedKeys: z.array(idText),
  notAccepted: z.boolean(),
  airbagLampBefore: z.enum(['on', 'off']).nullable(),
});

export const snapshotAnswer = z
  .object({
    takenAt: momentText,
    today: dayText,
    person: z.object({ tenantId: idText, id: idText, name: z.string(), role: z.enum(staffRoles) }),
    business: z.object({
      name: z.string(),
      phone: z.string(),
      currency: z.string(),
      timeZone: z.string(),
    }),
    stops: z.array(stop),
    places: z.array(place),
    repairs: z.array(repair),
    factors: z.array(z.object({ code: z.string(), name: z.string(), percent: z.string() })),
    workOrders: z.array(workOrder),
  })
  .meta({ id: 'PhoneSnapshot' });

/** A snapshot as it was kept; null where this version of the phone’s app can’t read it. */
export function readSnapshot(kept: unknown): PhoneSnapshot | null {
  const read = snapshotAnswer.safeParse(kept);
  // The ids and days of a snapshot were written by the server and checked by the schema just now.
  return read.success ? (read.data as unknown as PhoneSnapshot) : null;
}
