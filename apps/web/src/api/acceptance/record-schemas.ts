import {
  type AcceptanceId,
  acceptanceOutcomes,
  copyChannels,
  signerRoles,
  type VisitId,
  type VisitSignatureId,
  type WorkOrderId,
} from '@grainwright/domain';
import type { AcceptanceRecord, CopyView } from '@grainwright/operations';
import { z } from 'zod';
import { idOf, idText, momentText, wordsOf } from '../schemas.ts';
import { shownAnswer, shownJson } from './schemas.ts';

export const answeredParams = z.object({
  id: idOf<WorkOrderId>('work order'),
  acceptance_id: idOf<AcceptanceId>('answer'),
});
export const signatureParams = z.object({
  id: idOf<VisitId>('visit'),
  signature_id: idOf<VisitSignatureId>('signature'),
});
export const acceptanceParams = z.object({ id: idOf<AcceptanceId>('answer') });

const wording = z.object({ version: z.string(), text: z.string() });
const point = z.object({ x: z.number(), y: z.number(), t: z.number() });

const copy = z.object({
  id: idText,
  channel: z.enum(wordsOf(copyChannels)),
  address: z.string(),
  given_at: momentText,
  mail: z.enum(['queued', 'sent', 'kept', 'failed']).nullable(),
  sent_at: momentText.nullable(),
  readable_until: momentText.nullable(),
});

const record = z.object({
  id: idText,
  document: z.object({
    sha256: z.string().meta({ description: 'Of the canonical JSON (RFC 8785) of “shown”.' }),
    format: z.string(),
    version: idText.meta({ description: 'The estimate’s version whose approved lines were done.' }),
    shown: shownAnswer.shape.shown,
  }),
  tenant_id: idText,
  account: z.object({ id: idText, name: z.string() }),
  signer: z.object({
    name: z.string(),
    role: z.enum(wordsOf(signerRoles)),
    email: z.string(),
    phone: z.string(),
  }),
  identified_by: z.string(),
  outcome: z.enum(wordsOf(acceptanceOutcomes)),
  remark: z.string(),
  intent: wording,
  consent: wording.nullable(),
  action: z.discriminatedUnion('kind', [
    z.object({
      kind: z.literal('drawn'),
      strokes: z.array(z.array(point)),
      picture_sha256: z.string().nullable(),
    }),
    z.object({ kind: z.literal('typed'), name: z.string().nullable() }),
  ]),
  accepted_at: momentText.meta({ description: 'By the server’s clock, UTC.' }),
  answered_at: momentText.nullable().meta({ description: 'By the device’s clock, where it was sent later.' }),
  from_address: z.string(),
  device: z.string(),
  taken_by: idText.nullable(),
  link_id: idText.nullable(),
  visit_signature_id: idText.nullable(),
  seal: z
    .object({
      number: z.int(),
      previous: z.string().nullable(),
      sha256: z.string(),
      sealed_at: momentText,
    })
    .nullable()
    .meta({ description: 'Null while it is being made.' }),
  copies: z.array(copy),
  readable_until: momentText.nullable().meta({ description: 'How long the signer can read it again.' }),
});

export const recordsAnswer = z.object({ acceptances: z.array(record) });

export function recordJson(view: AcceptanceRecord): z.infer<typeof record> {
  const { document, signer, seal, from } = view;
  return {
    id: view.id,
    document: {
      sha256: document.digest,
      format: document.format,
      version: document.version,
      shown: shownJson(document.shown),
    },
    tenant_id: view.tenantId,
    account: view.account,
    signer: {
      name: signer.signerName,
      role: signer.signerRole,
      email: signer.signerEmail,
      phone: signer.signerPhone,
    },
    identified_by: view.identifiedBy,
    outcome: view.outcome,
    remark: view.remark,
    intent: view.intent,
    consent: view.consent,
    action: actionJson(view.action),
    accepted_at: view.acceptedAt,
    answered_at: view.answeredAt,
    from_address: from.address,
    device: from.device,
    taken_by: view.takenBy,
    link_id: view.linkId,
    visit_signature_id: view.visitSignatureId,
    seal: seal && {
      number: seal.number,
      previous: seal.previous,
      sha256: seal.sha256,
      sealed_at: seal.sealedAt,
    },
    copies: view.copies.map(copyJson),
    readable_until: view.readableUntil,
  };
}

function actionJson(action: AcceptanceRecord['action']): z.infer<typeof record>['action'] {
  if (action.kind === 'typed') return action;
  return {
    kind: 'drawn',
    strokes: z.array(z.array(point)).parse(action.strokes),
    picture_sha256: action.picture,
  };
}

function copyJson(view: CopyView): z.infer<typeof copy> {
  return {
    id: view.id,
    channel: view.channel,
    address: view.address,
    given_at: view.givenAt,
    mail: view.mail,
    sent_at: view.sentAt,
    readable_until: view.readableUntil,
  };
}
