import type { DecisionId, PhotoId, Problem } from '@grainwright/domain';
import type { DecisionPreview, WorkOrderView } from '@grainwright/operations';
import type { Html } from '../../../look/html.ts';
import { accountPage } from '../../../look/layout.ts';
import type { Frame } from '../../person.ts';
import type { TypedAnswer } from '../../work-order/answers.ts';
import { previewBody } from '../../work-order/preview-body.ts';
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
    body: previewBody({
      preview,
      decisionId,
      csrfToken,
      problem,
      typed,
      photoIds,
      address: `/account/work-orders/${view.id}`,
      business: frame.me.business.name,
    }),
  });
}
