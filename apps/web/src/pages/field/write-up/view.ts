import type { Problem } from '@grainwright/domain';
import type { PlaceView } from '@grainwright/operations';
import { fieldButton, fieldLink, quietLink } from '../../../look/buttons.ts';
import {
  checkboxField,
  dateField,
  errorSummary,
  hiddenCsrf,
  hiddenField,
  selectField,
  textField,
} from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { fieldPage } from '../../../look/layout.ts';
import { emptyState } from '../../../look/tables.ts';
import { problemsOf } from '../../form-problems.ts';
import type { Frame } from '../../person.ts';
import { changeableFields, ownNumberField } from './changeable-fields.ts';
import { type TypedWriteUp, writeUpFields } from './write-up-form.ts';

/** An account and its place, as they stand in the address. */
export function placeKey(place: Pick<PlaceView, 'accountId' | 'siteId'>): string {
  return `${place.accountId}.${place.siteId}`;
}

/** First screen: where the technician is. */
export function choosePlacePage(page: {
  readonly frame: Frame;
  readonly places: readonly PlaceView[];
  readonly problem: Problem | null;
}): Html {
  const { frame, places, problem } = page;
  const { summary, errorOf } = problemsOf(problem, ['place']);
  return fieldPage({
    ...frame,
    title: 'Write-up',
    heading: 'Where are you?',
    lead: 'The account that pays, and its place.',
    current: 'write-up',
    body:
      places.length === 0
        ? emptyState(
            'No account is open to new work',
            'The office opens accounts and their places. Ask them to add this one.',
          )
        : html`${errorSummary(summary)}
          <form method="get" action="/field/write-up" id="place">
            ${selectField({
              name: 'place',
              label: 'Account and place',
              empty: 'Choose one',
              required: true,
              error: errorOf('place'),
              choices: places.map((place) => ({
                value: placeKey(place),
                label: `${place.accountName}, ${place.siteName}`,
              })),
            })}
          </form>`,
    primaryAction:
      places.length === 0
        ? fieldLink({ label: 'Back to today’s stops', href: '/field' })
        : fieldButton({ label: 'Go on to the vehicle', form: 'place' }),
  });
}

export interface WriteUpPage {
  readonly frame: Frame;
  readonly place: PlaceView;
  readonly ids: { readonly id: string; readonly visitId: string };
  readonly typed: TypedWriteUp;
  readonly problem: Problem | null;
}

/** Second screen: which vehicle. */
export function writeUpPage({ frame, place, ids, typed, problem }: WriteUpPage): Html {
  const { summary, errorOf } = problemsOf(problem, writeUpFields);
  return fieldPage({
    ...frame,
    title: 'Write-up',
    heading: 'Which vehicle?',
    lead: html`${place.accountName}, ${place.siteName}`,
    current: 'write-up',
    scripts: [frame.assets.sending],
    body: html`${errorSummary(summary)}
      <form method="post" action="/field/write-up" id="write-up" data-sending="Writing up…">
        ${hiddenCsrf(frame.csrfToken)}${hiddenField('id', ids.id)}${hiddenField('visit_id', ids.visitId)}
        ${hiddenField('place', placeKey(place))}
        ${ownNumberField({ typed, errorOf, ownNumberKind: place.ownNumberKind, ownNumberRequired: place.ownNumberRequired })}
        ${vehicleFields(typed, errorOf)}
        ${changeableFields({ typed, errorOf, currency: frame.me.business.currency })}
        <h2>When</h2>
        ${dateField({ name: 'day', label: 'Day of work', error: errorOf('day'), value: typed.day === '' ? frame.me.today : typed.day })}
        ${checkboxField({ name: 'after_hours', label: 'After hours', hint: 'A visit of its own, with the after-hours charge', checked: typed.afterHours })}
      </form>
      <p>${quietLink({ label: 'Another account or place', href: '/field/write-up' })}</p>`,
    primaryAction: fieldButton({ label: 'Write it up', form: 'write-up' }),
  });
}

function vehicleFields(typed: TypedWriteUp, errorOf: (field: string) => string | undefined): Html {
  const word = (name: string) => ({ name, error: errorOf(name), autocomplete: 'off' });
  return html`
    ${textField({ ...word('vin'), label: 'VIN', hint: '17 characters, on the plate behind the windshield or in the door', value: typed.vin, code: true, maxLength: 40 })}
    ${textField({ ...word('last_eight'), label: 'Last 8', hint: 'Enough on its own', value: typed.lastEight, code: true, maxLength: 20 })}
    ${textField({ ...word('model_year'), label: 'Model year', hint: 'Taken from the VIN if you leave it empty', value: typed.modelYear, maxLength: 4 })}
    ${textField({ ...word('make'), label: 'Make', value: typed.make, maxLength: 60 })}
    ${textField({ ...word('model'), label: 'Model', value: typed.model, maxLength: 60 })}
    ${textField({ ...word('color'), label: 'Interior color', value: typed.color, maxLength: 60 })}`;
}
