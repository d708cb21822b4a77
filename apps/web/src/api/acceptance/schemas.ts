import {
  type AcceptanceId,
  type AcceptanceShown,
  acceptanceOutcomes,
  type MissingSignatureId,
  missingSignatureReasons,
  signerRoles,
  type VisitId,
  type VisitSignatureId,
  type WorkOrderId,
  workOrderStates,
} from '@grainwright/domain';
import { z } from 'zod';
import { idOf, idText, momentText, wordsOf } from '../schemas.ts';

const outcome = z.enum(wordsOf(acceptanceOutcomes));
const signerRole = z.enum(wordsOf(signerRoles));
const digest = z.string().regex(/^[0-9a-f]{64}$/);

const shown = z
  .object({
    format: z.literal('acceptance-shown-1'),
    workOrder: z.string(),
    version: z.string(),
    vehicle: z.object({
      description: z.string(),
      vin: z.string().nullable(),
      lastEight: z.string().nullable(),
      numbers: z.array(z.object({ kind: z.string(), number: z.string() })),
    }),
    work: z.array(z.object({ line: z.string(), text: z.string() })),
    photos: z.array(z.object({ photo: z.string(), purpose: z.string(), sha256: z.string() })),
    text: z.object({ version: z.string(), text: z.string() }),
    prices: z
      .object({ currency: z.string(), netMinor: z.array(z.string()), totalMinor: z.string() })
      .nullable(),
  })
  .meta({ description: 'Exactly what is shown and signed.' });

/** The same, in lists of its own. */
export function shownJson(view: AcceptanceShown) {
  const { vehicle, work, photos, prices } = view;
  return {
    ...view,
    vehicle: { ...vehicle, numbers: [...vehicle.numbers] },
    work: [...work],
    photos: [...photos],
    prices: prices && { ...prices, netMinor: [...prices.netMinor] },
  };
}

export const shownAnswer = z.object({
  signer: signerRole
    .nullable()
    .meta({ description: 'Who has to sign by the account’s terms; null: either may.' }),
  shown,
  digest: digest.meta({ description: 'SHA-256 of the canonical JSON (RFC 8785) of “shown”.' }),
});

const point = z.object({ x: z.number(), y: z.number(), t: z.number() });

const signedAnswer = {
  outcome,
  remark: z.string().max(5000).default(''),
  signer_name: z.string().max(400),
  signer_role: signerRole,
  signature: z.discriminatedUnion('kind', [
    z.object({ kind: z.literal('drawn'), strokes: z.array(z.array(point).max(10_000)).max(500) }),
    z.object({ kind: z.literal('typed'), name: z.string().max(400), confirmed: z.boolean() }),
  ]),
  override_reason: z.string().max(500).default('').meta({
    description: 'Why a signature that looks like the payer’s stands for the vehicle’s owner all the same.',
  }),
};

export const acceptBody = z.object({
  id: idOf<AcceptanceId>('acceptance'),
  shown_digest: digest,
  ...signedAnswer,
});

export const acceptedAnswer = z.object({
  id: idText,
  outcome,
  accepted_at: momentText,
  digest,
  state: z.enum(wordsOf(workOrderStates)),
});

export const missingSignatureBody = z.object({
  id: idOf<MissingSignatureId>('record'),
  why: z.enum(wordsOf(missingSignatureReasons)),
  reason: z.string().max(2000),
  witness: z.string().max(400).meta({ description: 'The full name of a second person who saw it.' }),
});

export const releaseAcceptanceBody = z.object({ reason: z.string().max(2000) });

export const visitParams = z.object({ id: idOf<VisitId>('visit') });

export const shownVisitAnswer = z.object({
  vehicles: z.array(z.object({ work_order_id: idText, shown, digest })).meta({
    description: 'Those that wait for their acceptance, each with the digest of what is shown of it.',
  }),
});

export const acceptVisitBody = z.object({
  id: idOf<VisitSignatureId>('signature'),
  work_orders: z
    .array(z.object({ work_order_id: idOf<WorkOrderId>('work order'), shown_digest: digest }))
    .max(100),
  ...signedAnswer,
});

export const acceptedVisitAnswer = z.object({
  id: idText,
  outcome,
  accepted_at: momentText,
  digest: digest.meta({ description: 'Of what was shown of all vehicles together.' }),
  work_orders: z.array(
    z.object({ work_order_id: idText, acceptance_id: idText, state: z.enum(wordsOf(workOrderStates)) }),
  ),
});
