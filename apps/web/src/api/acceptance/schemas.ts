import type { AcceptanceId } from '@grainwright/domain';
import { acceptanceOutcomes, signerRoles, workOrderStates } from '@grainwright/domain';
import { z } from 'zod';
import { idOf, idText, momentText, wordsOf } from '../schemas.ts';

const outcome = z.enum(wordsOf(acceptanceOutcomes));
const signerRole = z.enum(wordsOf(signerRoles));
const digest = z.string().regex(/^[0-9a-f]{64}$/);

export const shownAnswer = z.object({
  signer: signerRole
    .nullable()
    .meta({ description: 'Who has to sign by the account’s terms; null: either may.' }),
  shown: z
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
    .meta({ description: 'Exactly what is shown and signed.' }),
  digest: digest.meta({ description: 'SHA-256 of the canonical JSON (RFC 8785) of “shown”.' }),
});

const point = z.object({ x: z.number(), y: z.number(), t: z.number() });

export const acceptBody = z.object({
  id: idOf<AcceptanceId>('acceptance'),
  shown_digest: digest,
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
});

export const acceptedAnswer = z.object({
  id: idText,
  outcome,
  accepted_at: momentText,
  digest,
  state: z.enum(wordsOf(workOrderStates)),
});
