import { displayPercent, formatDecimal, formatMinor } from '@grainwright/domain';
import { changeTier } from '@grainwright/operations';
import { money } from '../../../look/figures.ts';
import { moneyField, numberField } from '../../../look/forms.ts';
import { html } from '../../../look/html.ts';
import { dataTable } from '../../../look/tables.ts';
import { firstDayShown, lastDayShown } from './dated.ts';
import type { Periods } from './period-page.ts';
import { standing } from './rate-periods.ts';
import { tierPrices } from './tier-prices-view.ts';

export const tierPeriods: Periods = {
  path: 'tiers',
  fields: ['discount_percent', 'vehicle_minimum', 'vehicle_cap', 'visit_minimum', 'trip_waived_from'],
  find: (book, code) => {
    const { tiers, currency, today } = book;
    const tier = tiers.find((each) => each.code === code);
    const last = tier?.terms.at(-1);
    if (tier === undefined || last === undefined) return null;
    const optional = (minor: bigint | null) => (minor === null ? '' : formatMinor(minor, currency));
    return {
      heading: `Tier ${tier.name}`,
      lead: 'What its accounts pay off list, the least and the most for a vehicle, the least for a visit, and when the trip is waived.',
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
            header: 'At most a vehicle',
            figure: true,
            cell: (row) => (row.vehicleCapMinor === null ? 'no limit' : money(row.vehicleCapMinor, currency)),
          },
          {
            header: 'Minimum a visit',
            figure: true,
            cell: (row) => (row.visitMinimumMinor === 0n ? 'none' : money(row.visitMinimumMinor, currency)),
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
        vehicle_cap: optional(last.vehicleCapMinor),
        visit_minimum: optional(last.visitMinimumMinor === 0n ? null : last.visitMinimumMinor),
        trip_waived_from: optional(last.tripWaivedFromMinor),
      },
      more: (mayChange) => tierPrices(book, code, mayChange),
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
      name: 'vehicle_cap',
      label: 'At most a vehicle',
      hint: 'Its repairs are lowered to it in proportion; empty if there is no limit',
      currency,
      value: values.vehicle_cap,
      error: errorOf('vehicle_cap'),
      required: false,
    }),
    moneyField({
      name: 'visit_minimum',
      label: 'Minimum a visit',
      hint: 'What its repairs come to at least, charged once a visit; empty if there is none',
      currency,
      value: values.visit_minimum,
      error: errorOf('visit_minimum'),
      required: false,
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
      vehicleCap: text('vehicle_cap') === '' ? null : text('vehicle_cap'),
      visitMinimum: text('visit_minimum') === '' ? undefined : text('visit_minimum'),
      tripWaivedFrom: text('trip_waived_from') === '' ? null : text('trip_waived_from'),
      validFrom: text('valid_from'),
    }),
};
