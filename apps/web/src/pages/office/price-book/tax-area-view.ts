import { displayPercent, type LineClass, lineClasses, type Problem } from '@grainwright/domain';
import type { PriceBookView } from '@grainwright/operations';
import { actionButton, quietLink } from '../../../look/buttons.ts';
import { fieldGroup } from '../../../look/field-group.ts';
import {
  checkboxField,
  dateField,
  errorSummary,
  hiddenCsrf,
  hiddenField,
  numberField,
  textField,
} from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { officePage } from '../../../look/layout.ts';
import { dataTable, emptyState } from '../../../look/tables.ts';
import { type FormProblems, problemsOf } from '../../form-problems.ts';
import type { Frame } from '../../person.ts';
import { firstDayShown, lastDayShown } from './dated.ts';
import { standing } from './rate-periods.ts';
import { adviserNotice } from './setup-view.ts';

type Area = PriceBookView['taxAreas'][number];

/** What was typed into one of the two forms of the page. */
export interface TaxTyped {
  readonly form: 'rates' | 'classes';
  readonly id: string;
  readonly component: string;
  readonly ratePercent: string;
  readonly taxable: readonly LineClass[];
  readonly validFrom: string;
}

export interface TaxAreaPage {
  readonly frame: Frame;
  readonly book: PriceBookView;
  readonly area: Area;
  readonly typed: TaxTyped | null;
  readonly problem: Problem | null;
  /** For the form that was not sent. */
  readonly newId: () => string;
  readonly mayChange: boolean;
}

export const classWords: Readonly<Record<LineClass, string>> = {
  labor: 'Labor',
  materials: 'Materials',
  trip: 'Trip',
  fee: 'Fees',
};

/** Every period of a place's taxes, and for the owner the forms that set the next ones. */
export function taxAreaView(page: TaxAreaPage): Html {
  const { frame, area, problem, mayChange } = page;
  const { summary } = problemsOf(problem, []);
  return officePage({
    ...frame,
    title: `Taxes of ${area.name}`,
    heading: `Taxes of ${area.name}`,
    lead: `Area ${area.code}. Taxes go by the day of the work.`,
    beside: quietLink({ label: 'Price book', href: '/office/price-book' }),
    current: 'price-book',
    body: html`${adviserNotice()}
      ${errorSummary(summary)}
      <section><h2>Rates</h2>${rateTable(page)}</section>
      ${mayChange && rateForm(page)}
      <section><h2>What is taxed</h2>${classTable(page)}</section>
      ${mayChange && classForm(page)}`,
  });
}

function rateTable({ area, book }: TaxAreaPage): Html {
  return dataTable({
    caption: 'Rates of the area',
    captionHidden: true,
    columns: [
      { header: 'Part', names: true, cell: (row) => row.component },
      { header: 'From', cell: firstDayShown },
      { header: 'To', cell: lastDayShown },
      { header: 'Standing', cell: (row) => standing(row, book.today) },
      { header: 'Rate', figure: true, cell: (row) => displayPercent(row.ratePercent) },
    ],
    rows: area.rates,
    empty: emptyState('No rate', 'Nothing is taxed here.'),
  });
}

function classTable({ area, book }: TaxAreaPage): Html {
  return dataTable({
    caption: 'What the area taxes',
    captionHidden: true,
    columns: [
      { header: 'From', names: true, cell: firstDayShown },
      { header: 'To', cell: lastDayShown },
      { header: 'Standing', cell: (row) => standing(row, book.today) },
      { header: 'Taxed', cell: (row) => (row.taxable.length === 0 ? 'nothing' : row.taxable.join(', ')) },
    ],
    rows: area.classes,
    empty: emptyState('Nothing is set', 'Nothing is taxed here.'),
  });
}

const hint = 'What holds before ends the day before. What is invoiced stays as it is.';

function firstDay(form: string, typed: TaxTyped | null, errorOf: FormProblems['errorOf']): Html {
  return dateField({
    name: 'valid_from',
    id: `${form}-from`,
    label: 'From',
    hint,
    value: typed?.validFrom,
    error: errorOf('valid_from'),
    required: true,
  });
}

function formHead({ frame, newId }: TaxAreaPage, typed: TaxTyped | null): readonly Html[] {
  return [hiddenCsrf(frame.csrfToken), hiddenField('id', typed?.id ?? newId())];
}

function rateForm(page: TaxAreaPage): Html {
  const typed = page.typed?.form === 'rates' ? page.typed : null;
  const { errorOf } = problemsOf(typed === null ? null : page.problem, [
    'component',
    'rate_percent',
    'valid_from',
  ]);
  const components = [...new Set(page.area.rates.map((rate) => rate.component))];
  return html`<form method="post" action="${`${addressOf(page)}/rates`}" novalidate>
    ${formHead(page, typed)}
    ${fieldGroup('Set a rate from a day on', [
      textField({
        name: 'component',
        label: 'Part of the tax',
        hint: 'One that is there, or the name of a new one',
        value: typed?.component,
        error: errorOf('component'),
        maxLength: 40,
        list: 'components',
        required: true,
      }),
      html`<datalist id="components">${components.map((each) => html`<option value="${each}"></option>`)}</datalist>`,
      numberField({
        name: 'rate_percent',
        label: 'Rate',
        unit: '%',
        value: typed?.ratePercent,
        error: errorOf('rate_percent'),
        required: true,
      }),
      firstDay('rate', typed, errorOf),
    ])}
    <div class="buttons">${actionButton({ label: 'Set the rate' })}</div>
  </form>`;
}

function classForm(page: TaxAreaPage): Html {
  const typed = page.typed?.form === 'classes' ? page.typed : null;
  const { errorOf } = problemsOf(typed === null ? null : page.problem, ['valid_from']);
  const taxed: readonly string[] = typed?.taxable ?? page.area.classes.at(-1)?.taxable ?? [];
  return html`<form method="post" action="${`${addressOf(page)}/classes`}" novalidate>
    ${formHead(page, typed)}
    ${fieldGroup('Set what is taxed from a day on', [
      ...lineClasses.map((each) =>
        checkboxField({ name: each, label: classWords[each], checked: taxed.includes(each) }),
      ),
      firstDay('class', typed, errorOf),
    ])}
    <div class="buttons">${actionButton({ label: 'Set what is taxed' })}</div>
  </form>`;
}

function addressOf({ area }: TaxAreaPage): string {
  return `/office/price-book/tax-areas/${encodeURIComponent(area.code)}`;
}
