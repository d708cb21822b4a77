import { type Day, displayPercent, formatDecimal, formatMinor } from '@grainwright/domain';
import { changeRate, type PriceBookView, type RateWithPrices } from '@grainwright/operations';
import { money } from '../../../look/figures.ts';
import { moneyField, numberField, textField } from '../../../look/forms.ts';
import { html } from '../../../look/html.ts';
import { statusWord } from '../../../look/notices.ts';
import { dataTable } from '../../../look/tables.ts';
import { bandWords, onlyForWords } from './band-words.ts';
import { type Dated, firstDayShown, lastDayShown } from './dated.ts';
import type { Periods } from './period-page.ts';

export const ratePeriods: Periods = {
  path: 'rates',
  fields: ['repair', 'list', 'materials_percent'],
  find: (book, code) => {
    const rows = book.rates.filter((rate) => rate.code === code);
    const last = rows.at(-1);
    if (last === undefined) return null;
    return {
      heading: `${code}, ${last.repair}`,
      lead: [last.family, bandWords(last), ...onlyFor(last)].join(', '),
      history: history(rows, book),
      values: {
        repair: last.repair,
        list: formatMinor(last.listMinor, book.currency),
        materials_percent: formatDecimal(last.materialsPercent),
      },
      endableId: last.validTo === null ? last.id : null,
    };
  },
  form: (values, errorOf, book) => [
    textField({
      name: 'repair',
      label: 'Repair, as documents say it',
      value: values.repair,
      error: errorOf('repair'),
      maxLength: 200,
      required: true,
    }),
    moneyField({
      name: 'list',
      label: 'List price',
      currency: book.currency,
      value: values.list,
      error: errorOf('list'),
      required: true,
    }),
    numberField({
      name: 'materials_percent',
      label: 'Materials',
      unit: '%',
      value: values.materials_percent,
      error: errorOf('materials_percent'),
      required: true,
    }),
  ],
  send: (services, actor, { code, id, text }) =>
    changeRate(services, actor, {
      id,
      code,
      repair: text('repair'),
      list: text('list'),
      materialsPercent: text('materials_percent'),
      validFrom: text('valid_from'),
    }),
};

function onlyFor(rate: RateWithPrices): readonly string[] {
  const only = onlyForWords(rate);
  return only === '' ? [] : [`only ${only}`];
}

function history(rows: readonly RateWithPrices[], { currency, today, tiers }: PriceBookView) {
  return dataTable({
    caption: 'Periods of the rate',
    captionHidden: true,
    narrow: 'scroll',
    columns: [
      { header: 'From', names: true, cell: firstDayShown },
      { header: 'To', cell: lastDayShown },
      { header: 'Standing', cell: (row) => standing(row, today) },
      { header: 'Repair', cell: (row) => row.repair },
      { header: 'Labor', figure: true, cell: (row) => money(row.laborMinor, currency) },
      {
        header: 'Materials',
        figure: true,
        cell: (row) => html`${money(row.materialsMinor, currency)} (${displayPercent(row.materialsPercent)})`,
      },
      { header: 'List', figure: true, cell: (row) => money(row.listMinor, currency) },
      ...tiers.map((tier, index) => ({
        header: tier.name,
        figure: true,
        cell: (row: RateWithPrices) => money(row.tierPricesMinor[index] ?? row.listMinor, currency),
      })),
    ],
    rows,
    empty: html``,
  });
}

/** Where a period stands today, in a word. */
export function standing({ validFrom, validTo }: Dated, today: Day) {
  if (validFrom > today) return statusWord('waiting', 'coming');
  if (validTo !== null && validTo < today) return statusWord('stopped', 'over');
  return statusWord('settled', 'holds today');
}
