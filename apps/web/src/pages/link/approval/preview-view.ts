import type { DecisionId, PhotoId, Problem } from '@grainwright/domain';
import type { DecisionPreview, WorkOrderView } from '@grainwright/operations';
import type { Html } from '../../../look/html.ts';
import type { TypedAnswer } from '../../work-order/answers.ts';
import { previewBody } from '../../work-order/preview-body.ts';
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
  return approvalPage(frame, {
    heading: `${workOrderNumber(view.number)}: the new total`,
    lead: view.vehicle.description,
    body: previewBody({
      preview,
      decisionId,
      csrfToken: null,
      problem,
      typed,
      photoIds,
      address: vehicleAddress(frame, view.id),
      business: frame.visit.business.name,
    }),
  });
}
