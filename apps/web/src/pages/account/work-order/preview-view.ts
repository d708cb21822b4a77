import type { DecisionId, PhotoId, Problem } from '@grainwright/domain';
import type { DecisionPreview, WorkOrderView } from '@grainwright/operations';
import { type Html, html } from '../../../look/html.ts';
import { accountPage } from '../../../look/layout.ts';
import type { Frame } from '../../person.ts';
import { answerForm } from '../../work-order/answer-form.ts';
import type { TypedAnswer } from '../../work-order/answers.ts';
import { previewParts } from '../../work-order/preview-parts.ts';
import { workOrderNumber } from '../../work-order/state-words.ts';

export interface PreviewPage {
  readonly frame: Frame;
  readonly view: WorkOrderView;
  readonly preview: DecisionPreview;
  readonly decisionId: DecisionId;
  readonly typed: readonly TypedAnswer[];
  readonly photoIds: readonly PhotoId[];
  readonly problem: Problem | null;
}

/** The new total before the answer is sent, and below it the answers, to change them. */
export function previewView({
  frame,
  view,
  preview,
  decisionId,
  typed,
  photoIds,
  problem,
}: PreviewPage): Html {
  const { csrfToken } = frame;
  return accountPage({
    title: `${workOrderNumber(view.number)}, the new total`,
    heading: `${workOrderNumber(view.number)}: the new total`,
    lead: view.vehicle.description,
    person: frame.person,
    current: 'needs',
    csrfToken,
    assets: frame.assets,
    elsewhere: frame.elsewhere,
    body: html`
      <section>${previewParts({ preview, decisionId, csrfToken, problem, action: `/account/work-orders/${view.id}/decision`, whoseLimit: 'Your limit', passOn: { action: `/account/work-orders/${view.id}/passed-on`, business: frame.me.business.name }, photoIds })}</section>
      <section><h2>Change the answers</h2>
        ${answerForm({
          action: `/account/work-orders/${view.id}/preview`,
          csrfToken,
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
        <p><a href="/account/work-orders/${view.id}">Back to the pictures and prices</a></p>
      </section>`,
  });
}
