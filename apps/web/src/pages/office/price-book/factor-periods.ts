import { displayPercent, formatDecimal } from '@grainwright/domain';
import { changeCareFactor } from '@grainwright/operations';
import { numberField } from '../../../look/forms.ts';
import { html } from '../../../look/html.ts';
import { dataTable } from '../../../look/tables.ts';
import { firstDayShown, lastDayShown } from './dated.ts';
import type { Periods } from './period-page.ts';
import { standing } from './rate-periods.ts';

export const factorPeriods: Periods = {
  path: 'care-factors',
  fields: ['percent'],
  find: ({ factors, today }, code) => {
    const factor = factors.find((each) => each.code === code);
    const last = factor?.percents.at(-1);
    if (factor === undefined || last === undefined) return null;
    return {
      heading: `Factor ${factor.name}`,
      lead: 'What a repair is multiplied by where it is picked; 110 % makes it a tenth dearer.',
      history: dataTable({
        caption: 'Periods of the factor',
        captionHidden: true,
        columns: [
          { header: 'From', names: true, cell: firstDayShown },
          { header: 'To', cell: lastDayShown },
          { header: 'Standing', cell: (row) => standing(row, today) },
          { header: 'Times', figure: true, cell: (row) => displayPercent(row.percent) },
        ],
        rows: factor.percents,
        empty: html``,
      }),
      values: { percent: formatDecimal(last.percent) },
      endableId: null,
    };
  },
  form: (values, errorOf) =>
    numberField({
      name: 'percent',
      label: 'Times',
      unit: '%',
      value: values.percent,
      error: errorOf('percent'),
      required: true,
    }),
  send: (services, actor, { code, id, text }) =>
    changeCareFactor(services, actor, {
      id,
      code,
      percent: text('percent'),
      validFrom: text('valid_from'),
    }),
};
