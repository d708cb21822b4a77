import { isUuid, type PersonId, toId } from '@grainwright/domain';
import type { RecordDecisionInput } from '@grainwright/operations';
import { moneyText } from '../../../look/figures.ts';
import { selectField } from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { notice } from '../../../look/notices.ts';
import type { FormValues } from '../../../plugins/forms.ts';
import { answerForm } from '../../work-order/answer-form.ts';
import { answersToStartFrom, type TypedAnswer } from '../../work-order/answers.ts';
import type { OfficeWorkOrderPage } from './view.ts';

/** Who of the account said it and how, besides the answers themselves. */
export interface RecordedTyped {
  readonly decidedBy: PersonId | null;
  readonly given: RecordDecisionInput['given'] | null;
  readonly answers: readonly TypedAnswer[];
}

export const nothingTyped: RecordedTyped = { decidedBy: null, given: null, answers: [] };

const givenWords = { in_person: 'in person', by_phone: 'by phone', in_writing: 'in writing' } as const;

export function readSaidBy(form: FormValues): Pick<RecordedTyped, 'decidedBy' | 'given'> {
  const person = form.text('decided_by');
  const given = form.text('given');
  return {
    decidedBy: isUuid(person) ? toId<PersonId>(person) : null,
    given: given === 'in_person' || given === 'by_phone' || given === 'in_writing' ? given : null,
  };
}

/** For an answer that did not come through the account's own pages. */
export function recordedAnswerForm(page: OfficeWorkOrderPage): Html | null {
  const { view, approvers, answer } = page;
  const { estimate } = view;
  if (view.state !== 'awaiting_approval') return null;
  const problem = answer.problem && notice('problem', 'Not written down', answer.problem.detail);
  if (approvers.length === 0)
    return html`<section class="unprinted" id="answer"><h2>The customer’s answer</h2>${problem}<p>This account has nobody who may approve, or your role does not write answers down.</p></section>`;
  if (estimate === null || estimate.versionId === null || estimate.digest === null) return null;
  return html`<section class="unprinted" id="answer"><h2>The customer’s answer</h2>
    <p>It waits for the account. Write their answer down only if they gave it to you: it counts as theirs, with their limit, and your name stands beside it.</p>
    ${problem}
    ${answerForm({
      action: `/office/work-orders/${view.id}/preview`,
      csrfToken: page.frame.csrfToken,
      versionId: estimate.versionId,
      digest: estimate.digest,
      photoIds: [],
      currency: view.currency,
      typed: answersToStartFrom(view, answer.typed.answers),
      before: saidByFields(page),
      lines: estimate.lines.map((line) => ({
        lineId: line.lineId,
        words: view.lines.find((each) => each.id === line.lineId)?.words ?? line.repair,
        offeredMinor: line.netMinor,
      })),
    })}</section>`;
}

function saidByFields({
  approvers,
  view,
  answer: { typed, problem },
}: Pick<OfficeWorkOrderPage, 'approvers' | 'view' | 'answer'>): Html {
  const limit = (minor: bigint | null) =>
    minor === null ? 'no limit' : `up to ${moneyText(minor, view.currency)}`;
  return html`${selectField({
    name: 'decided_by',
    label: 'Who said it',
    empty: 'Choose a person',
    required: true,
    value: typed.decidedBy ?? '',
    error: problem?.field === 'decided_by' ? problem.detail : undefined,
    choices: approvers.map(({ personId, name, limitMinor }) => ({
      value: personId,
      label: `${name}, ${limit(limitMinor)}`,
    })),
  })}
  ${selectField({
    name: 'given',
    label: 'How',
    empty: 'Choose how',
    required: true,
    value: typed.given ?? '',
    error: problem?.field === 'given' ? problem.detail : undefined,
    choices: Object.entries(givenWords).map(([value, label]) => ({ value, label })),
  })}`;
}
