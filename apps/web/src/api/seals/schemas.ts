import type { SigningKeyId } from '@grainwright/domain';
import { z } from 'zod';
import { dayText, idOf, idText, momentText } from '../schemas.ts';

const digest = z.string().meta({ description: 'SHA-256 in lower-case hex.' });
const signature = z.string().meta({ description: 'Ed25519 (RFC 8032) over the UTF-8 of `text`, in hex.' });

export const sealsAnswer = z.object({
  seals: z.array(
    z.object({
      number: z.int(),
      kind: z.string(),
      subject_id: idText,
      happened_at: momentText,
      sealed_at: momentText,
      text: z
        .string()
        .meta({ description: 'Canonical JSON (RFC 8785): the chain and the signature are of it.' }),
      sha256: digest,
      signature,
      key: digest,
      content: z
        .string()
        .meta({ description: 'What was sealed, as canonical JSON. `text` names its digest.' }),
      day: z
        .object({
          day: dayText,
          root: digest,
          size: z.int(),
          index: z.int().meta({ description: 'Among the day’s seals, counted from 0.' }),
          proof: z.array(digest).meta({ description: 'RFC 6962 section 2.1.1, from the lowest up.' }),
        })
        .nullable()
        .meta({ description: 'Null while its day is not over.' }),
    }),
  ),
});

export const sealedAnswer = z.object({
  more: z.boolean().meta({ description: 'There are older ones in the span: ask for fewer days.' }),
  seals: z.array(
    z.object({
      number: z.int(),
      kind: z.string(),
      work_order: z.object({ id: idText, number: z.string() }).nullable(),
      credit_note: z.string().nullable(),
      sealed_at: momentText,
      sealed_on: dayText,
      sha256: digest,
    }),
  ),
});

export const keysAnswer = z.object({
  keys: z.array(
    z.object({
      id: idText,
      key: digest.meta({ description: 'What seals name it by: the SHA-256 of the public key.' }),
      public_key: z.string().meta({ description: 'Ed25519, 32 bytes in hex.' }),
      state: z.enum(['waiting', 'in_use', 'retired']),
      cause: z.enum(['first', 'rotated', 'secret_changed']),
      made_at: momentText,
      retired_at: momentText.nullable(),
      introduced_by: z.int().nullable().meta({ description: 'The number of the seal that introduces it.' }),
    }),
  ),
});

export const daysQuery = z.object({
  from: dayText.default('').meta({ description: 'Thirty days before `to` unless given.' }),
  to: dayText.default('').meta({ description: 'Today unless given.' }),
});
export const dayParams = z.object({ day: dayText });

const dayHead = {
  day: dayText,
  first_number: z.int(),
  size: z.int(),
  root: digest.meta({ description: 'The RFC 6962 root over the day’s seals.' }),
  sha256: digest.meta({ description: 'Of the day’s signed text: what statements print.' }),
  key: digest,
};

export const daysAnswer = z.object({ from: dayText, to: dayText, days: z.array(z.object(dayHead)) });
export const dayAnswer = z.object({
  ...dayHead,
  text: z.string(),
  signature,
  leaves: z.array(digest).meta({ description: 'Of each seal of the day, its leaf in the tree.' }),
});

export const newKeyBody = z.object({ id: idOf<SigningKeyId>('signing key') });

export const trailQuery = z.object({
  before: idText
    .optional()
    .meta({ description: '`earlier` of a page; without it and “after” the newest page.' }),
  after: idText.optional().meta({ description: '`later` of a page.' }),
});

export const trailAnswer = z.object({
  kind: z.enum(['work_order', 'invoice', 'statement']),
  name: z.string(),
  account: z.string(),
  earlier: idText.nullable().meta({ description: 'Send it as “before” for what was earlier.' }),
  later: idText.nullable().meta({ description: 'Send it as “after” for what was later.' }),
  entries: z.array(
    z.object({
      at: momentText.meta({ description: 'When it was received.' }),
      made_on_phone_at: momentText.nullable().meta({
        description:
          'When it was done by the clock of a phone without signal, which sent it later; else null.',
      }),
      action: z.string(),
      words: z.string(),
      by: z.string().nullable().meta({ description: 'Null for a vehicle’s owner.' }),
      side: z.enum(['business', 'account', 'vehicle_owner']),
      internal: z
        .object({
          detail: z.unknown().meta({ description: 'What was before and after, as JSON.' }),
          from_address: z.string(),
          chain_number: z.int().nullable(),
        })
        .nullable()
        .meta({ description: 'For the staff alone; null for an account.' }),
    }),
  ),
});
