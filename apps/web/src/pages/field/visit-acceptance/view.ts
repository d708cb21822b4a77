import type { Problem } from '@grainwright/domain';
import type { ShownVehicle, ShownVisit } from '@grainwright/operations';
import { fieldButton, fieldLink } from '../../../look/buttons.ts';
import { dayShown } from '../../../look/figures.ts';
import { checkboxField, errorSummary, hiddenCsrf, hiddenField } from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { fieldPage } from '../../../look/layout.ts';
import { definitionList, emptyState } from '../../../look/tables.ts';
import { problemsOf } from '../../form-problems.ts';
import type { Frame } from '../../person.ts';
import { workOrderNumber } from '../../work-order/state-words.ts';
import { answerFieldNames, answerFields } from '../acceptance/answer-fields.ts';
import { picturedParts } from '../acceptance/pictured-parts.ts';
import { vehicleShown, workShown } from '../acceptance/shown-parts.ts';
import type { TypedAnswer } from '../acceptance/typed-answer.ts';
import { wayOut } from '../acceptance/way-out.ts';

export interface VisitAcceptancePage {
  readonly frame: Frame & { readonly signatureScript: string; readonly sendingScript: string };
  readonly visit: ShownVisit;
  readonly typed: TypedAnswer;
  /** The work orders that are ticked. */
  readonly chosen: readonly string[];
  readonly problem: Problem | null;
}

/** The phone is turned round to the account’s representative, who looks at every vehicle and signs once. */
export function visitAcceptanceView(page: VisitAcceptancePage): Html {
  const { frame, visit } = page;
  const some = visit.vehicles.length > 0;
  return fieldPage({
    ...frame,
    title: 'Your vehicles’ repairs',
    heading: 'Please look at the repairs',
    lead: `${visit.accountName}, ${visit.siteName}`,
    current: null,
    turnedRound: some,
    scripts: [frame.assets.divider, frame.signatureScript, frame.sendingScript],
    body: some
      ? html`${definitionList([
          { term: 'Repaired by', value: frame.me.business.name },
          { term: 'Day', value: dayShown(visit.day) },
          { term: 'Vehicles', value: String(visit.vehicles.length) },
        ])}
        ${answerForm(page)}
        ${wayOut({ back: `/field/stops/${visit.visitId}` })}`
      : emptyState(
          'No finished vehicle waits for a signature',
          'Finish the work first, then hand the phone over.',
        ),
    primaryAction: some
      ? fieldButton({ label: 'Accept these vehicles', form: 'visit-acceptance' })
      : fieldLink({ label: 'Back to today’s stops', href: '/field' }),
  });
}

function answerForm({ frame, visit, typed, chosen, problem }: VisitAcceptancePage): Html {
  const { errorOf, summary } = problemsOf(problem, [...answerFieldNames, 'work_orders']);
  const [first] = visit.vehicles;
  if (first === undefined) return html``;
  return html`<form id="visit-acceptance" method="post" action="/field/visits/${visit.visitId}/acceptance" data-sending="Sending…">
    ${errorSummary(summary)}
    ${hiddenCsrf(frame.csrfToken)}${hiddenField('id', typed.id)}
    <p>Take the tick away from a vehicle that you do not accept; it is answered for by itself.</p>
    ${visit.vehicles.map((vehicle, index) => vehicleSection(vehicle, index, chosen))}
    <h2>Your answer for the vehicles that are ticked</h2>
    ${answerFields({
      typed,
      signer: 'account_representative',
      outcomes: ['accepted', 'accepted_with_remark'],
      remarkHint: 'Needed with a remark. It stands with every vehicle that is ticked.',
      problem,
      words: first.shown,
      contact: 'email_and_phone',
      errorOf,
    })}
  </form>`;
}

function vehicleSection(
  { workOrder, shown, digest, parts }: ShownVehicle,
  index: number,
  chosen: readonly string[],
): Html {
  return html`<section>
    <h2>${workOrderNumber(workOrder.number)}${workOrder.ownNumber !== '' && `, ${workOrder.ownNumber}`}</h2>
    ${hiddenField(`digest-${workOrder.id}`, digest)}
    ${vehicleShown(shown)}
    ${workShown(shown)}
    ${picturedParts(parts)}
    ${checkboxField({
      name: 'work_orders',
      id: index === 0 ? undefined : `accept-${workOrder.id}`,
      label: `I accept ${workOrderNumber(workOrder.number)}, ${shown.vehicle.description}`,
      value: workOrder.id,
      checked: chosen.includes(workOrder.id),
    })}
  </section>`;
}
