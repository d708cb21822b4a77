import { materials, type Problem, vehicleParts } from '@grainwright/domain';
import type { PriceBookView } from '@grainwright/operations';
import { actionButton, quietLink } from '../../../look/buttons.ts';
import { fieldGroup } from '../../../look/field-group.ts';
import {
  checkboxField,
  dateField,
  errorSummary,
  hiddenCsrf,
  hiddenField,
  moneyField,
  numberField,
  selectField,
  textField,
} from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { officePage } from '../../../look/layout.ts';
import { problemsOf } from '../../form-problems.ts';
import type { Frame } from '../../person.ts';

export const rateFields = [
  'code',
  'repair',
  'family',
  'over_inches',
  'to_inches',
  'part',
  'material',
  'list',
  'materials_percent',
  'valid_from',
  'valid_to',
] as const;
type RateField = (typeof rateFields)[number];

export interface RateTyped {
  readonly id: string;
  readonly values: Readonly<Partial<Record<RateField, string>>>;
  readonly takesFurtherRepair: boolean;
  readonly repairsDamage: boolean;
}

export interface NewRatePage {
  readonly frame: Frame;
  readonly book: PriceBookView;
  readonly typed: RateTyped;
  readonly problem: Problem | null;
}

export function newRateView({ frame, book, typed, problem }: NewRatePage): Html {
  const { errorOf, summary } = problemsOf(problem, rateFields);
  const field = (name: RateField, label: string, required = true) => ({
    name,
    label,
    value: typed.values[name],
    error: errorOf(name),
    required,
  });
  return officePage({
    ...frame,
    title: 'Add a rate',
    heading: 'Add a rate',
    lead: 'Another price of a code that is there already is set on the code’s own page.',
    beside: quietLink({ label: 'Price book', href: '/office/price-book' }),
    current: 'price-book',
    body: html`<form method="post" action="/office/price-book/rates/new" novalidate>
      ${hiddenCsrf(frame.csrfToken)}${hiddenField('id', typed.id)}
      ${errorSummary(summary)}
      ${fieldGroup('What it is', [
        textField({
          ...field('code', 'Code'),
          hint: 'Capitals, figures and dashes, like VC-M',
          code: true,
          maxLength: 12,
        }),
        textField({ ...field('repair', 'Repair, as documents say it'), maxLength: 200 }),
        textField({
          ...field('family', 'Family'),
          hint: 'Rates that differ only by size share one',
          maxLength: 60,
          list: 'families',
        }),
        html`<datalist id="families">${[...new Set(book.rates.map((rate) => rate.family))].map((family) => html`<option value="${family}"></option>`)}</datalist>`,
      ])}
      ${fieldGroup('Sizes', [
        numberField({
          ...field('over_inches', 'Over', false),
          hint: 'Empty where nothing is measured',
          unit: 'in',
        }),
        numberField({ ...field('to_inches', 'Up to', false), unit: 'in' }),
      ])}
      ${fieldGroup('Only for', [
        selectField({
          ...field('part', 'Part', false),
          hint: 'A rate that names the part or the material goes before one that does not',
          empty: 'Any part',
          choices: choicesOf(vehicleParts),
        }),
        selectField({
          ...field('material', 'Material', false),
          hint: 'As settled at the vehicle',
          empty: 'Any material',
          choices: choicesOf(materials),
        }),
      ])}
      ${fieldGroup('Price', [
        moneyField({ ...field('list', 'List price'), currency: book.currency }),
        numberField({ ...field('materials_percent', 'Materials'), unit: '%' }),
        dateField({ ...field('valid_from', 'From'), value: typed.values.valid_from ?? book.today }),
        dateField({ ...field('valid_to', 'To', false), hint: 'The last day; empty if it has no end' }),
      ])}
      ${checkboxField({ name: 'takes_further_repair', label: 'Cheaper as a further repair on the same vehicle, dearer by a care factor', checked: typed.takesFurtherRepair })}
      ${checkboxField({ name: 'repairs_damage', label: 'Mends damage, and so needs photos', checked: typed.repairsDamage })}
      <div class="buttons">${actionButton({ label: 'Add the rate' })}</div>
    </form>`,
  });
}

function choicesOf(words: Readonly<Record<string, string>>) {
  return Object.entries(words).map(([value, label]) => ({ value, label }));
}
