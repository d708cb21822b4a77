import { z } from 'zod';
import { idText, momentText } from '../schemas.ts';

/** An answer of whoever accepts the work, as everybody who sees the work order reads it. */
export const answeredAnswer = z.object({
  id: idText,
  outcome: z.enum(['accepted', 'accepted_with_remark', 'not_accepted']),
  remark: z.string(),
  signer_name: z.string(),
  signer_role: z.enum(['vehicle_owner', 'account_representative']),
  identified_by: z.string(),
  method: z.enum(['drawn', 'typed']),
  signature_sha256: z
    .string()
    .nullable()
    .meta({ description: 'Of the drawn signature as a picture: GET /acceptances/{id}/signature.' }),
  shown_digest: z.string(),
  accepted_at: momentText.meta({ description: 'When it was received.' }),
  answered_at: momentText
    .nullable()
    .meta({ description: 'When it was signed by the clock of the phone, where it was sent later.' }),
});
