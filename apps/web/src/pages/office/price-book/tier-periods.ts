import { displayPercent, formatDecimal, formatMinor } from '@grainwright/domain';
import { changeTier } from '@grainwright/operations';
import { money } from '../../../look/figures.ts';
import { moneyField, numberField } from '../../../look/forms.ts';
import { html } from '../../../look/html.ts';
import { dataTable } from '../../../look/tables.ts';
import { firstDayShown, lastDayShown } from './dated.ts';
import type { Periods } from './period-page.ts';
import { standing } from './rate-periods.ts';

export const tierPeriods: Periods = {
  path: 'tiers',
  fields: ['discount_percent', 'vehicle_minimum', 'trip_waived_from'],
  find: ({ tiers, currency, today }, code) => {
    const tier = tiers.find((each) => each.code === code);
    const last = tier?.terms.at(-1);
    if (tier === undefined || last === undefined) return null;
    const waived = last.tripWaivedFromMinor;
    return {
      heading: `Tier ${tier.name}`,
      lead: 'What its accounts pay off list, the minimum a vehicle, and when the trip is waived.',
      history: dataTable({
        caption: 'Periods of the tier',
        captionHidden: true,
        columns: [
          { header: 'From', names: true, cell: firstDayShown },
          { header: 'To', cell: lastDayShown },
          { header: 'Standing', cell: (row) => standing(row, today) },
          { header: 'Off list', figure: true, cell: (row) => displayPercent(row.discountPercent) },
          {
            header: 'Minimum a vehicle',
            figure: true,
            cell: (row) => money(row.vehicleMinimumMinor, currency),
          },
          {
            header: 'Trip waived from',
            figure: true,
            cell: (row) =>
              row.tripWaivedFromMinor === null ? 'never' : money(row.tripWaivedFromMinor, currency),
          },
        ],
        rows: tier.terms,
        empty: html``,
      }),
      values: {
        discount_percent: formatDecimal(last.discountPercent),
        vehicle_minimum: formatMinor(last.vehicleMinimumMinor, currency),
        trip_waived_from: waived === null ? '' : formatMinor(waived, currency),
      },
      endableId: null,
    };
  },
  form: (values, errorOf, { currency }) => [
    numberField({
      name: 'discount_percent',
      label: 'Off list',
      unit: '%',
      value: values.discount_percent,
      error: errorOf('discount_percent'),
      required: true,
    }),
    moneyField({
      name: 'vehicle_minimum',
      label: 'Minimum a vehicle',
      currency,
      value: values.vehicle_minimum,
      error: errorOf('vehicle_minimum'),
      required: true,
    }),
    moneyField({
      name: 'trip_waived_from',
      label: 'Trip waived from',
      hint: 'Repairs of a visit; empty if it never is',
      currency,
      value: values.trip_waived_from,
      error: errorOf('trip_waived_from'),
      required: false,
    }),
  ],
  send: (services, actor, { code, id, text }) =>
    changeTier(services, actor, {
      id,
      code,
      discountPercent: text('discount_percent'),
      vehicleMinimum: text('vehicle_minimum'),
      tripWaivedFrom: text('trip_waived_from') === '' ? null : text('trip_waived_from'),
      validFrom: text('valid_from'),
    }),
};
