import type { DecisionId, PhotoId, Problem } from '@grainwright/domain';
import type { DecisionPreview, WorkOrderView } from '@grainwright/operations';
import { type Html, html } from '../../../look/html.ts';
import { answerForm } from '../../work-order/answer-form.ts';
import type { TypedAnswer } from '../../work-order/answers.ts';
import { previewParts } from '../../work-order/preview-parts.ts';
import { workOrderNumber } from '../../work-order/state-words.ts';
import { approvalPage, type LinkFrame, vehicleAddress } from './vehicle-parts.ts';

export interface LinkPreviewPage {
  readonly frame: LinkFrame;
  readonly view: WorkOrderView;
  readonly preview: DecisionPreview;
  readonly decisionId: DecisionId;
  readonly typed: readonly TypedAnswer[];
  readonly photoIds: readonly PhotoId[];
  readonly problem: Problem | null;
}

/** The new total before the answer is sent by the link, and below it the answers, to change them. */
export function linkPreviewView(page: LinkPreviewPage): Html {
  const { frame, view, preview, decisionId, typed, photoIds, problem } = page;
  const address = vehicleAddress(frame, view.id);
  return approvalPage(frame, {
    heading: `${workOrderNumber(view.number)}: the new total`,
    lead: view.vehicle.description,
    body: html`
      <section>${previewParts({
        preview,
        decisionId,
        csrfToken: null,
        problem,
        action: `${address}/decision`,
        passOn: { action: `${address}/passed-on`, business: frame.visit.business.name },
        whoseLimit: 'Your limit',
        photoIds,
      })}</section>
      <section><h2>Change the answers</h2>
        ${answerForm({
          action: `${address}/preview`,
          csrfToken: null,
          versionId: preview.versionId,
          digest: preview.digest,
          photoIds,
          currency: preview.currency,
          typed,
          lines: preview.lines.map(({ lineId, description, offeredMinor }) => ({
            lineId,
            words: description,
            offeredMinor,
          })),
        })}
        <p><a href="${address}">Back to the pictures and prices</a></p>
      </section>`,
  });
}
