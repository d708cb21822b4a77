import {
  type AcceptanceCopyId,
  type AcceptanceId,
  type AcceptanceShown,
  acceptanceOutcomes,
  copyChannels,
  type MissingSignatureId,
  missingSignatureReasons,
  signerRoles,
  type VisitId,
  type VisitSignatureId,
  type WorkOrderId,
  workOrderStates,
} from '@grainwright/domain';
import type { CopyGiven } from '@grainwright/operations';
import { z } from 'zod';
import { idOf, idText, momentText, wordsOf } from '../schemas.ts';

const outcome = z.enum(wordsOf(acceptanceOutcomes));
const signerRole = z.enum(wordsOf(signerRoles));
const digest = z.string().regex(/^[0-9a-f]{64}$/);

const wording = z.object({ version: z.string(), text: z.string() });

const shown = z
  .object({
    format: z.enum(['acceptance-shown-1', 'acceptance-shown-2']),
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
    text: wording.meta({ description: 'What the answer says, above the signature.' }),
    consent: wording.optional().meta({
      description: 'What is agreed to by signing on a screen. Answers in the first format have none.',
    }),
    prices: z
      .object({ currency: z.string(), netMinor: z.array(z.string()), totalMinor: z.string() })
      .nullable(),
  })
  .meta({ description: 'Exactly what is shown and signed.' });

/** The same, in lists of its own. */
export function shownJson({ consent, ...view }: AcceptanceShown) {
  const { vehicle, work, photos, prices } = view;
  return {
    ...view,
    ...(consent === undefined ? {} : { consent }),
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

export const copyWish = z
  .object({
    id: idOf<AcceptanceCopyId>('copy'),
    channel: z.enum(wordsOf(copyChannels)).meta({ description: '“declined”: the signer wants no copy.' }),
    address: z.string().max(400).default('').meta({
      description:
        'For “mail” the e-mail address, for “link” the telephone number it is passed on to, or nothing.',
    }),
  })
  .meta({ description: 'Where the signer’s copy goes.' });

const contact = {
  signer_email: z
    .string()
    .max(400)
    .default('')
    .meta({ description: 'How to reach the signer, if they say.' }),
};

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
  ...contact,
  signer_phone: z.string().max(100).default(''),
  answered_at: z.iso.datetime({ offset: true }).nullable().default(null).meta({
    description: 'When it was given by the device’s own clock, where it is sent later.',
  }),
  copy: copyWish.nullable().default(null),
};

/** What became of a wish; the link is told only to whoever gave it. */
export const copyGivenAnswer = z.object({
  id: idText,
  channel: z.enum(wordsOf(copyChannels)),
  address: z.string(),
  link: z
    .object({
      address: z.string().meta({ description: 'The link itself. It is stored nowhere.' }),
      message: z.string().meta({ description: 'What to send along with it, the address in it.' }),
      last_day: z.string().meta({ description: 'In words: “Dec 14, 2026”.' }),
    })
    .nullable(),
});

export function copyGivenJson({ id, channel, address, link }: CopyGiven): z.infer<typeof copyGivenAnswer> {
  const told = link && { address: link.address, message: link.message, last_day: link.lastDayWords };
  return { id, channel, address, link: told };
}

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
  copy: copyGivenAnswer.nullable(),
});

export const missingSignatureBody = z.object({
  id: idOf<MissingSignatureId>('record'),
  why: z.enum(wordsOf(missingSignatureReasons)),
  reason: z.string().max(2000),
  witness: z.string().max(400).meta({
    description: 'The full name of a second person who saw it; may be empty where nobody was there.',
  }),
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
  copy: copyGivenAnswer.nullable(),
});
