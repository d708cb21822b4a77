import type { Problem } from '@grainwright/domain';
import type { WorkOrderView } from '@grainwright/operations';
import { fieldButton, quietLink } from '../../../look/buttons.ts';
import { errorSummary, hiddenCsrf } from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { fieldPage } from '../../../look/layout.ts';
import { problemsOf } from '../../form-problems.ts';
import type { Frame } from '../../person.ts';
import { workOrderNumber } from '../../work-order/state-words.ts';
import { type ChangeableFields, changeableFields, ownNumberField } from '../write-up/changeable-fields.ts';
import { writeUpFields } from '../write-up/write-up-form.ts';

export interface DetailsPage {
  readonly frame: Frame;
  readonly view: WorkOrderView;
  readonly typed: ChangeableFields['typed'];
  readonly problem: Problem | null;
}

/** The numbers and the owner, which often come after the write-up. */
export function detailsPage({ frame, view, typed, problem }: DetailsPage): Html {
  const { summary, errorOf } = problemsOf(problem, writeUpFields);
  const path = `/field/work-orders/${view.id}`;
  return fieldPage({
    ...frame,
    title: `Details of ${workOrderNumber(view.number)}`,
    heading: 'Numbers and owner',
    lead: `${workOrderNumber(view.number)} · ${view.vehicle.description}`,
    current: null,
    scripts: [frame.assets.sending],
    body: html`${errorSummary(summary)}
      <form method="post" action="${path}/details" id="details" data-sending="Keeping…">
        ${hiddenCsrf(frame.csrfToken)}
        ${ownNumberField({ typed, errorOf, ownNumberKind: view.numbers.ownKind, ownNumberRequired: false })}
        ${changeableFields({ typed, errorOf })}
      </form>
      <p>${quietLink({ label: 'Back to the work order', href: path })}</p>`,
    primaryAction: fieldButton({ label: 'Keep', form: 'details' }),
  });
}

/** What is on record, as it would be typed. */
export function typedDetails(view: WorkOrderView): ChangeableFields['typed'] {
  const { numbers, owner, odometerMiles } = view;
  return {
    ownNumber: numbers.own,
    roNumber: numbers.ro,
    poNumber: numbers.po,
    ownerName: owner.name,
    ownerPhone: owner.phone,
    odometerMiles: odometerMiles?.toString() ?? '',
  };
}
