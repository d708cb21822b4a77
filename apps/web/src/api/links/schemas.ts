import { type AccessLinkId, acceptanceOutcomes, signerRoles, type WorkOrderId } from '@grainwright/domain';
import { z } from 'zod';
import { acceptBody, shownAnswer } from '../acceptance/schemas.ts';
import { idOf, idText, momentText, wordsOf } from '../schemas.ts';

export const linkParams = z.object({
  id: idOf<WorkOrderId>('work order'),
  link_id: idOf<AccessLinkId>('link'),
});

export const linksAnswer = z.object({
  links: z.array(
    z.object({
      id: idText,
      purpose: z.enum(['approval', 'acceptance', 'acceptance_copy']),
      person_id: idText.nullable(),
      work_order_id: idText,
      made_at: momentText,
      expires_at: momentText,
      revoked_at: momentText.nullable(),
      opens: z.boolean(),
    }),
  ),
});

export const ownerLinkBody = z.object({
  id: idOf<AccessLinkId>('link'),
  owner_name: z.string().max(400),
  phone: z.string().max(100).default(''),
  email: z.string().max(400).default('').meta({ description: 'At least one of phone and e-mail address.' }),
});

export const ownerLinkAnswer = z.object({
  id: idText,
  address: z.string().meta({ description: 'The link itself. It is stored nowhere and told only now.' }),
  message: z.string().meta({ description: 'What to send along with it, the address in it.' }),
  last_day: z.string().meta({ description: 'In words: “Dec 14, 2026”.' }),
});

export const signedAnswer = z.object({
  id: idText,
  outcome: z.enum(wordsOf(acceptanceOutcomes)),
  remark: z.string(),
  signer_name: z.string(),
  signer_role: z.enum(wordsOf(signerRoles)),
  digest: z.string(),
  accepted_at: momentText,
});

export const ownersPageAnswer = z.discriminatedUnion('stands', [
  z.object({ stands: z.literal('open'), expect: z.array(z.string()), ...shownAnswer.shape }),
  z.object({ stands: z.literal('answered'), shown: shownAnswer.shape.shown, answer: signedAnswer }),
  z.object({ stands: z.literal('closed'), why: z.string() }),
]);

export const answerByLinkBody = acceptBody.omit({
  signer_role: true,
  override_reason: true,
  signer_phone: true,
  copy: true,
});

export const copyPageAnswer = z.object({
  readable_until: momentText.meta({ description: 'When this link stops opening it.' }),
  answers: z.array(z.object({ shown: shownAnswer.shape.shown, answer: signedAnswer })).meta({
    description: 'One, or one for each vehicle of a signature.',
  }),
});
