import type { DecisionId, PersonId, Problem } from '@grainwright/domain';
import type { DecisionPreview, WorkOrderView } from '@grainwright/operations';
import { quietLink } from '../../../look/buttons.ts';
import { type Html, html } from '../../../look/html.ts';
import { fieldPage } from '../../../look/layout.ts';
import { signatureField } from '../../../look/signature.ts';
import type { Frame } from '../../person.ts';
import { previewParts } from '../../work-order/preview-parts.ts';

export interface SignPage {
  readonly frame: Frame;
  readonly view: WorkOrderView;
  readonly preview: DecisionPreview;
  readonly decisionId: DecisionId;
  readonly decidedBy: PersonId;
  readonly signed: { readonly name: string; readonly strokes: string; readonly confirmed: boolean };
  readonly problem: Problem | null;
}

/** The phone is turned round: whoever answers sees the new total and signs for it. */
export function signView({ frame, view, preview, decisionId, decidedBy, signed, problem }: SignPage): Html {
  const path = `/field/work-orders/${view.id}/answer`;
  const at = (field: string) => (problem?.field === field ? problem.detail : undefined);
  return fieldPage({
    ...frame,
    title: 'Your yes or no',
    heading: 'Please look at the new total',
    lead: view.vehicle.description,
    current: null,
    turnedRound: true,
    scripts: [frame.assets.signature, frame.assets.sending],
    body: html`${previewParts({
      photoIds: [],
      preview,
      decisionId,
      problem,
      csrfToken: frame.csrfToken,
      action: path,
      whoseLimit: 'Your limit',
      hidden: [['decided_by', decidedBy]],
      before: signatureField({
        strokesName: 'signature',
        typedName: 'signer_name',
        confirmName: 'confirmed',
        label: 'Your signature',
        confirmation: 'This is my answer, and the name above is my signature.',
        strokes: signed.strokes,
        typed: signed.name,
        confirmed: signed.confirmed,
        errors: { strokes: at('signature'), typed: at('signer_name'), confirm: at('confirmed') },
      }),
    })}
    <p>${quietLink({ label: 'Change the answers', href: path })}</p>`,
  });
}
