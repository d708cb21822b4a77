import type { Problem } from '@grainwright/domain';
import type { Approver, WorkOrderView } from '@grainwright/operations';
import { quietLink } from '../../../look/buttons.ts';
import { moneyText } from '../../../look/figures.ts';
import { selectField } from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { fieldPage } from '../../../look/layout.ts';
import { notice } from '../../../look/notices.ts';
import { emptyState } from '../../../look/tables.ts';
import type { Frame } from '../../person.ts';
import { answerForm } from '../../work-order/answer-form.ts';
import { answersToStartFrom, type TypedAnswer } from '../../work-order/answers.ts';
import { consentNotices, readerOf } from '../../work-order/consent-parts.ts';
import { estimateSums } from '../../work-order/price-parts.ts';
import { replacementBeside } from '../../work-order/replacement-parts.ts';
import { workOrderNumber } from '../../work-order/state-words.ts';

export interface AskPage {
  readonly frame: Frame;
  readonly view: WorkOrderView;
  readonly approvers: readonly Approver[];
  readonly decidedBy: string;
  readonly typed: readonly TypedAnswer[];
  readonly problem: Problem | null;
}

/** What is asked, how much it is against what was approved, and yes or no to each line. */
export function askView(page: AskPage): Html {
  const { frame, view, problem } = page;
  const path = `/field/work-orders/${view.id}`;
  return fieldPage({
    ...frame,
    title: 'Their answer',
    heading: 'Their answer',
    lead: `${workOrderNumber(view.number)} · ${view.vehicle.description}`,
    current: null,
    body: html`
      ${problem && notice('problem', 'Not yet', problem.detail)}
      ${consentNotices(readerOf(frame), view)}
      ${asked(page)}
      <p>${quietLink({ label: 'Back to the work order', href: path })}</p>`,
  });
}

function asked(page: AskPage): Html {
  const { frame, view, approvers, typed } = page;
  const { estimate, currency } = view;
  if (view.state !== 'awaiting_approval' || estimate?.versionId == null || estimate.digest === null)
    return emptyState('Nothing to answer', 'This work order does not wait for an answer.');
  if (approvers.length === 0)
    return emptyState('Nobody may approve', 'The office has to name somebody of the account who may.');
  return html`${estimateSums(estimate.price, currency, view.deposit)}
    ${replacementBeside(view)}
    ${answerForm({
      action: `/field/work-orders/${view.id}/answer/preview`,
      csrfToken: frame.csrfToken,
      versionId: estimate.versionId,
      digest: estimate.digest,
      photoIds: [],
      currency,
      typed: answersToStartFrom(view, typed),
      before: who(page),
      lines: estimate.lines.map((line) => ({
        lineId: line.lineId,
        words: view.lines.find((each) => each.id === line.lineId)?.words ?? line.repair,
        offeredMinor: line.netMinor,
      })),
    })}`;
}

function who({ approvers, decidedBy, problem, view }: AskPage): Html {
  const limit = (minor: bigint | null) =>
    minor === null ? 'no limit' : `up to ${moneyText(minor, view.currency)}`;
  const [only, ...others] = approvers;
  return selectField({
    name: 'decided_by',
    label: 'Who answers',
    empty: 'Choose a person',
    required: true,
    value: decidedBy === '' && others.length === 0 ? (only?.personId ?? '') : decidedBy,
    error: problem?.field === 'decided_by' ? problem.detail : undefined,
    choices: approvers.map(({ personId, name, limitMinor }) => ({
      value: personId,
      label: `${name}, ${limit(limitMinor)}`,
    })),
  });
}
