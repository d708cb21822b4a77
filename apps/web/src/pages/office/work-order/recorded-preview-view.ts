import type { DecisionId, PersonId, Problem } from '@grainwright/domain';
import type { DecisionPreview, RecordDecisionInput, WorkOrderView } from '@grainwright/operations';
import { type Html, html } from '../../../look/html.ts';
import { officePage } from '../../../look/layout.ts';
import type { Frame } from '../../person.ts';
import { previewParts } from '../../work-order/preview-parts.ts';
import { workOrderNumber } from '../../work-order/state-words.ts';

export interface RecordedPreviewPage {
  readonly frame: Frame;
  readonly view: WorkOrderView;
  readonly preview: DecisionPreview;
  readonly decisionId: DecisionId;
  readonly decidedBy: PersonId;
  readonly given: RecordDecisionInput['given'];
  readonly problem: Problem | null;
}

/** What the customer's answer comes to, before it is written down. */
export function recordedPreviewView(page: RecordedPreviewPage): Html {
  const { frame, view, preview, decisionId, problem } = page;
  return officePage({
    title: `${workOrderNumber(view.number)}, the customer’s answer`,
    heading: `${workOrderNumber(view.number)}: the customer’s answer`,
    lead: `${view.account.name}, ${view.vehicle.description}. Tell them the new total before you write it down.`,
    ...frame,
    current: 'work-orders',
    body: html`<section>${previewParts({
      photoIds: [],
      preview,
      decisionId,
      problem,
      csrfToken: frame.csrfToken,
      action: `/office/work-orders/${view.id}/decision`,
      whoseLimit: 'Their limit',
      hidden: [
        ['decided_by', page.decidedBy],
        ['given', page.given],
      ],
    })}
    <p><a href="/office/work-orders/${view.id}">Back to the work order</a></p></section>`,
  });
}
