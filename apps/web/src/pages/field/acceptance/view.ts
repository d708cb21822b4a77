import type { Problem } from '@grainwright/domain';
import type { ShownAcceptance } from '@grainwright/operations';
import { fieldButton } from '../../../look/buttons.ts';
import { dayShown } from '../../../look/figures.ts';
import { errorSummary, hiddenCsrf, hiddenField } from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { fieldPage } from '../../../look/layout.ts';
import { definitionList } from '../../../look/tables.ts';
import { problemsOf } from '../../form-problems.ts';
import type { FieldFrame } from '../../person.ts';
import { workOrderNumber } from '../../work-order/state-words.ts';
import { workOrderPath } from '../work-words.ts';
import { answerFieldNames, answerFields } from './answer-fields.ts';
import { picturedParts } from './pictured-parts.ts';
import { vehicleShown, workShown } from './shown-parts.ts';
import type { TypedAnswer } from './typed-answer.ts';
import { wayOut } from './way-out.ts';

export interface AcceptancePage {
  readonly frame: FieldFrame & { readonly signatureScript: string; readonly sendingScript: string };
  readonly acceptance: ShownAcceptance;
  readonly typed: TypedAnswer;
  readonly problem: Problem | null;
}

/** The phone is turned round: whoever accepts holds it. Nothing but the technician’s way out at its end leads elsewhere, and there are no prices unless the business chose so. */
export function acceptanceView(page: AcceptancePage): Html {
  const { frame, acceptance } = page;
  const path = workOrderPath(acceptance.workOrder);
  return fieldPage({
    ...frame,
    title: 'Your vehicle’s repair',
    heading: 'Please look at the repair',
    lead: acceptance.shown.vehicle.description,
    current: null,
    turnedRound: true,
    scripts: [frame.assets.divider, frame.signatureScript, frame.sendingScript],
    body: html`
      ${definitionList([
        { term: 'Repaired by', value: frame.me.business.name },
        { term: 'Work order', value: workOrderNumber(acceptance.workOrder.number) },
        { term: 'Date', value: dayShown(frame.me.today) },
      ])}
      ${vehicleShown(acceptance.shown)}
      <h2>What was done</h2>
      ${workShown(acceptance.shown)}
      <h2>Before and after</h2>
      ${picturedParts(acceptance.parts)}
      ${answerForm(page)}
      ${wayOut({ notSigned: `${path}/not-signed`, back: path })}`,
    primaryAction: fieldButton({ label: 'Give my answer', form: 'acceptance' }),
  });
}

function answerForm({ frame, acceptance, typed, problem }: AcceptancePage): Html {
  const { errorOf, summary } = problemsOf(problem, answerFieldNames);
  return html`<form id="acceptance" method="post" action="${workOrderPath(acceptance.workOrder)}/acceptance" data-sending="Sending…">
    <h2>Your answer</h2>
    ${errorSummary(summary)}
    ${hiddenCsrf(frame.csrfToken)}
    ${hiddenField('id', typed.id)}
    ${hiddenField('shown_digest', acceptance.digest)}
    ${answerFields({
      typed,
      signer: acceptance.signer,
      outcomes: ['accepted', 'accepted_with_remark', 'not_accepted'],
      remarkHint: 'Needed with a remark, and when you do not accept: what remains to be put right.',
      problem,
      words: acceptance.shown,
      contact: 'email_and_phone',
      errorOf,
    })}
  </form>`;
}
