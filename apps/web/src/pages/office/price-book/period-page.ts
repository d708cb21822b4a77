import type { Problem, Result } from '@grainwright/domain';
import type { Actor, PriceBookView, Services } from '@grainwright/operations';
import { actionButton, quietButton, quietLink } from '../../../look/buttons.ts';
import { fieldGroup } from '../../../look/field-group.ts';
import { dateField, errorSummary, hiddenCsrf, hiddenField } from '../../../look/forms.ts';
import { type Fragment, type Html, html } from '../../../look/html.ts';
import { officePage } from '../../../look/layout.ts';
import { type FormProblems, problemsOf } from '../../form-problems.ts';
import type { Frame } from '../../person.ts';

export type Values = Readonly<Record<string, string>>;

export interface PeriodSent {
  readonly code: string;
  readonly id: string;
  readonly text: (name: string) => string;
}

/** Something of the price book that has periods, and the form that adds the next one. */
export interface Periods {
  /** The folder of its addresses. */
  readonly path: string;
  /** Names of the fields, but the first day. */
  readonly fields: readonly string[];
  /** Its name, history and the values to start from; null where there is none of that code. */
  readonly find: (book: PriceBookView, code: string) => FoundPeriods | null;
  readonly form: (values: Values, errorOf: FormProblems['errorOf'], book: PriceBookView) => Fragment;
  readonly send: (services: Services, actor: Actor, sent: PeriodSent) => Promise<Result<unknown>>;
}

export interface FoundPeriods {
  readonly heading: string;
  readonly lead: string;
  readonly history: Html;
  readonly values: Values;
  /** What else belongs to it, below its periods; for the owner with the way to change that. */
  readonly more?: (mayChange: boolean) => Html;
  /** The period that may be given a last day; null where none may. */
  readonly endableId: string | null;
}

export interface PeriodPage {
  readonly frame: Frame;
  readonly periods: Periods;
  readonly found: FoundPeriods;
  readonly book: PriceBookView;
  readonly code: string;
  readonly id: string;
  readonly values: Values;
  readonly problem: Problem | null;
  readonly mayChange: boolean;
}

/** The history of one thing of the price book, and for the owner the form that changes it from a day on. */
export function periodPage(page: PeriodPage): Html {
  const { frame, periods, found, book, code, values } = page;
  const problems = problemsOf(page.problem, [...periods.fields, 'valid_from', 'valid_to']);
  return officePage({
    ...frame,
    title: found.heading,
    heading: found.heading,
    lead: found.lead,
    beside: quietLink({ label: 'Price book', href: '/office/price-book' }),
    current: 'price-book',
    body: html`${errorSummary(problems.summary)}
      <section><h2>Periods</h2>${found.history}</section>
      ${found.more?.(page.mayChange) ?? false}
      ${
        page.mayChange &&
        html`<form method="post" action="${`/office/price-book/${periods.path}/${code}`}" novalidate>
        ${hiddenCsrf(frame.csrfToken)}${hiddenField('id', page.id)}
        ${fieldGroup('Change it from a day on', [
          periods.form(values, problems.errorOf, book),
          dateField({
            name: 'valid_from',
            label: 'From',
            hint: 'The first day; what holds now ends the day before. What was priced stays.',
            value: values.valid_from,
            error: problems.errorOf('valid_from'),
            required: true,
          }),
        ])}
        <div class="buttons">${actionButton({ label: 'Change it from that day' })}</div>
      </form>
      ${found.endableId !== null && endForm(page, found.endableId, problems.errorOf)}`
      }`,
  });
}

/** For what ends without another to follow. */
function endForm(
  { frame, periods, code, values }: PeriodPage,
  endedId: string,
  errorOf: FormProblems['errorOf'],
): Html {
  return html`<form method="post" action="${`/office/price-book/${periods.path}/${code}/end`}" novalidate>
    ${hiddenCsrf(frame.csrfToken)}${hiddenField('ended_id', endedId)}
    ${fieldGroup(
      'Or end it',
      dateField({
        name: 'valid_to',
        label: 'Last day',
        hint: 'Today or later. From the next day on it is priced by hand.',
        value: values.valid_to,
        error: errorOf('valid_to'),
        required: true,
      }),
    )}
    <div class="buttons">${quietButton({ label: 'End it on that day' })}</div>
  </form>`;
}
