import type { Problem } from '@grainwright/domain';
import type { PlaceView } from '@grainwright/operations';
import { fieldButton, fieldLink } from '../../../look/buttons.ts';
import { errorSummary, selectField } from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { fieldPage } from '../../../look/layout.ts';
import { emptyState } from '../../../look/tables.ts';
import { problemsOf } from '../../form-problems.ts';
import type { FieldFrame } from '../../person.ts';

/** As much of a place as writing a vehicle up there asks for. */
export type WriteUpPlace = Pick<
  PlaceView,
  'accountId' | 'accountName' | 'siteId' | 'siteName' | 'ownNumberKind' | 'ownNumberRequired'
>;

/** An account and its place, as they stand in the address. */
export function placeKey(place: Pick<PlaceView, 'accountId' | 'siteId'>): string {
  return `${place.accountId}.${place.siteId}`;
}

/** First screen: where the technician is. */
export function choosePlacePage(page: {
  readonly frame: FieldFrame;
  readonly places: readonly WriteUpPlace[];
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
