import { addDays, type Day, firstDay, lastDay, monthOf } from '@grainwright/domain';
import { quietButton } from '../../look/buttons.ts';
import { dateField } from '../../look/forms.ts';
import { type Html, html } from '../../look/html.ts';
import type { FormProblems } from '../form-problems.ts';
import { queryText } from '../query-text.ts';

/** The days of a report as they stand in the address; the month before this one unless given. */
export interface AskedDays {
  readonly from: string;
  readonly to: string;
}

export function askedDays(query: { readonly from?: unknown; readonly to?: unknown }, today: Day): AskedDays {
  const before = monthOf(addDays(firstDay(monthOf(today)), -1));
  return { from: queryText(query.from) ?? firstDay(before), to: queryText(query.to) ?? lastDay(before) };
}

export function daysForm(action: string, days: AskedDays, errorOf: FormProblems['errorOf']): Html {
  return html`<form class="filters" method="get" action="${action}">
    ${dateField({ name: 'from', label: 'From', value: days.from, error: errorOf('from') })}
    ${dateField({ name: 'to', label: 'To', value: days.to, error: errorOf('to') })}
    ${quietButton({ label: 'Show' })}
  </form>`;
}
