import { formatDecimal, formatMinor, type Problem } from '@grainwright/domain';
import type { PriceBookView, TripZoneInput } from '@grainwright/operations';
import { actionButton, quietLink } from '../../../look/buttons.ts';
import { fieldGroup } from '../../../look/field-group.ts';
import {
  dateField,
  errorSummary,
  hiddenCsrf,
  hiddenField,
  moneyField,
  numberField,
  textField,
} from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { officePage } from '../../../look/layout.ts';
import { type FormProblems, problemsOf } from '../../form-problems.ts';
import type { Frame } from '../../person.ts';

export const termsFields = [
  'further_repair_percents',
  'trip',
  'miles_included',
  'mile',
  'after_hours_percent',
  'after_hours_minimum',
  'rush_percent',
  'rush_minimum',
  'deposit_from',
  'deposit_percent',
  'deposit_step',
  'floor_percent',
  'valid_from',
] as const;
type TermsField = (typeof termsFields)[number];

export const zoneRowsMax = 12;
const zoneRowsShown = 3;

/** The name of a zone's field, which is that of a refusal of it. */
export function zoneField(index: number, part: 'name' | 'up_to_miles' | 'amount'): string {
  return `trip_zones.${index}.${part}`;
}

export interface TermsTyped {
  readonly id: string;
  readonly values: Readonly<Partial<Record<TermsField, string>>>;
  readonly zones: readonly TripZoneInput[];
}

export interface TermsPage {
  readonly frame: Frame;
  readonly book: PriceBookView;
  readonly typed: TermsTyped;
  readonly problem: Problem | null;
}

/** What the form starts from: terms that are there, but for their days. */
export function typedFrom(
  terms: PriceBookView['terms'][number] | undefined,
  currency: string,
  id: string,
): TermsTyped {
  if (terms === undefined) return { id, values: {}, zones: [] };
  const amount = (minor: bigint) => formatMinor(minor, currency);
  return {
    id,
    values: {
      further_repair_percents: terms.furtherRepairPercents.map(formatDecimal).join(', '),
      trip: amount(terms.tripMinor),
      miles_included: formatDecimal(terms.milesIncluded),
      mile: amount(terms.mileMinor),
      after_hours_percent: formatDecimal(terms.afterHoursPercent),
      after_hours_minimum: amount(terms.afterHoursMinimumMinor),
      rush_percent: formatDecimal(terms.rushPercent),
      rush_minimum: amount(terms.rushMinimumMinor),
      deposit_from: amount(terms.depositFromMinor),
      deposit_percent: formatDecimal(terms.depositPercent),
      deposit_step: amount(terms.depositStepMinor),
      floor_percent: terms.floorPercent === null ? '' : formatDecimal(terms.floorPercent),
    },
    zones: terms.tripZones.map((zone) => ({
      name: zone.name,
      upToMiles: formatDecimal(zone.upToMiles),
      amount: amount(zone.amountMinor),
    })),
  };
}

export function termsView({ frame, book, typed, problem }: TermsPage): Html {
  const rows = Math.min(zoneRowsMax, Math.max(zoneRowsShown, typed.zones.length + 1));
  const zoneFields = Array.from({ length: rows }, (_row, index) =>
    (['name', 'up_to_miles', 'amount'] as const).map((part) => zoneField(index, part)),
  ).flat();
  const problems = problemsOf(problem, [...termsFields, ...zoneFields]);
  const { currency } = book;
  const field = (name: TermsField, label: string, hint?: string) => ({
    name,
    label,
    ...(hint === undefined ? {} : { hint }),
    value: typed.values[name],
    error: problems.errorOf(name),
    required: true,
  });
  return officePage({
    ...frame,
    title: 'Set terms',
    heading: 'Set terms from a day on',
    lead: 'What prices count beside rates and tiers. What holds now ends the day before; what was priced stays.',
    beside: quietLink({ label: 'Price book', href: '/office/price-book' }),
    current: 'price-book',
    body: html`<form method="post" action="/office/price-book/terms" novalidate>
      ${hiddenCsrf(frame.csrfToken)}${hiddenField('id', typed.id)}
      ${errorSummary(problems.summary)}
      ${fieldGroup('Several repairs on a vehicle', [
        textField({
          ...field(
            'further_repair_percents',
            'Percent of the first, the second and every further repair',
            'The dearest first, like 100, 90, 80',
          ),
        }),
      ])}
      ${fieldGroup('Trip', [
        moneyField({ ...field('trip', 'Once a visit'), currency }),
        numberField({ ...field('miles_included', 'Miles included', 'One way'), unit: 'mi' }),
        moneyField({ ...field('mile', 'Every mile over'), currency }),
      ])}
      ${zonesGroup(typed.zones, rows, currency, problems)}
      ${fieldGroup('After hours', [
        numberField({ ...field('after_hours_percent', 'Of the visit’s repairs'), unit: '%' }),
        moneyField({ ...field('after_hours_minimum', 'At least'), currency }),
      ])}
      ${fieldGroup('Rush, asked for within the day', [
        numberField({
          ...field('rush_percent', 'Of the visit’s repairs', '0 if it costs nothing'),
          unit: '%',
        }),
        moneyField({ ...field('rush_minimum', 'At least'), currency }),
      ])}
      ${fieldGroup('Deposit asked of retail', [
        moneyField({ ...field('deposit_from', 'From a total of'), currency }),
        numberField({ ...field('deposit_percent', 'Of the total'), unit: '%' }),
        moneyField({ ...field('deposit_step', 'Up to the next'), currency }),
      ])}
      ${fieldGroup('Which prices, from when', [
        numberField({
          ...field('floor_percent', 'The owner consents to prices below', 'Of list; empty if nobody has to'),
          required: false,
          unit: '%',
        }),
        dateField(field('valid_from', 'From', 'The first day, after today')),
      ])}
      <div class="buttons">${actionButton({ label: 'Set the terms' })}</div>
    </form>`,
  });
}

function zonesGroup(
  zones: readonly TripZoneInput[],
  rows: number,
  currency: string,
  { errorOf }: FormProblems,
): Html {
  const row = (index: number) => {
    const zone = zones[index];
    const field = (part: 'name' | 'up_to_miles' | 'amount', label: string, value: string | undefined) => {
      const name = zoneField(index, part);
      return { name, label: `Zone ${index + 1}: ${label}`, value, error: errorOf(name) };
    };
    return [
      textField({ ...field('name', 'name', zone?.name), maxLength: 40 }),
      numberField({ ...field('up_to_miles', 'up to', zone?.upToMiles), unit: 'mi' }),
      moneyField({ ...field('amount', 'once a visit', zone?.amount), currency }),
    ];
  };
  return html`${fieldGroup(
    'Zones of the trip',
    Array.from({ length: rows }, (_row, index) => row(index)),
  )}
    <p class="hint">From near to far. Where there are zones, a trip costs what the first one says that reaches the place; beyond the last one every mile over is added. Empty: one amount wherever it goes.</p>`;
}
