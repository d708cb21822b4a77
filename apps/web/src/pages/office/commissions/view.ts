import { allows, displayPercent, type PersonId, type Problem, sumMinor } from '@grainwright/domain';
import type { CommissionRateView, CommissionsView } from '@grainwright/operations';
import { actionButton, quietButton } from '../../../look/buttons.ts';
import { columns } from '../../../look/field-group.ts';
import { dayShown, dayText, money } from '../../../look/figures.ts';
import {
  type Choice,
  dateField,
  errorSummary,
  hiddenCsrf,
  hiddenField,
  numberField,
  selectField,
} from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { officePage } from '../../../look/layout.ts';
import { notice } from '../../../look/notices.ts';
import { dataTable, emptyState } from '../../../look/tables.ts';
import { problemsOf } from '../../form-problems.ts';
import type { Frame } from '../../person.ts';
import { workOrderNumber } from '../../work-order/state-words.ts';
import { type AskedDays, daysForm } from '../report-days.ts';

/** What stands in the form for a new commission. */
export interface RateForm {
  readonly id: string;
  readonly person_id: string;
  readonly percent: string;
  readonly valid_from: string;
}

export interface CommissionsPage {
  readonly frame: Frame;
  readonly days: AskedDays;
  /** Null where the days can't be read. */
  readonly report: CommissionsView | null;
  readonly technician: PersonId | null;
  readonly rates: readonly CommissionRateView[];
  readonly staff: readonly Choice[];
  readonly form: RateForm;
  /** Of the days, or of the form. */
  readonly problem: Problem | null;
}

const dayFields = ['from', 'to'];
const formFields = ['person_id', 'percent', 'valid_from', 'valid_to'];

export function commissionsPage(page: CommissionsPage): Html {
  const { frame, days, report, problem } = page;
  const problems = problemsOf(problem, [...dayFields, ...formFields]);
  return officePage({
    ...frame,
    title: 'Commissions',
    heading: 'Commissions',
    lead:
      report === null
        ? 'Choose the days.'
        : `${dayText(report.from)} to ${dayText(report.to)}, by the day of the invoice, credit note or void.`,
    current: 'commissions',
    body: html`${errorSummary(problems.summary)}
      ${daysForm('/office/commissions', days, problems.errorOf)}
      ${report && totals(report)}
      <p class="hint">A percent of the labor of repairs with their minimum, rounded per vehicle; after-hours is not in it. It is earned with the invoice, whether that is paid or not. A credit takes back the difference. A rework is not invoiced, and so not paid.</p>
      ${report && entriesTable(report, page.technician)}
      ${columns([ratesTable(page), rateForm(page)])}`,
  });
}

function totals(report: CommissionsView): Html {
  const { technicians, currency, from, to } = report;
  const total = (of: (each: (typeof technicians)[number]) => bigint) =>
    money(sumMinor(technicians.map(of)), currency);
  const days = `from=${from}&to=${to}`;
  const without = technicians.reduce((sum, each) => sum + each.withoutRate, 0);
  return html`${without > 0 && notice('problem', 'Some work has no commission set', `${without} ${without === 1 ? 'vehicle was' : 'vehicles were'} worked on a day for which none is set. Set it below; it is counted from then on.`)}
    ${dataTable({
      caption: 'Technicians',
      captionHidden: true,
      csvHref: `/office/commissions.csv?${days}`,
      columns: [
        {
          header: 'Technician',
          names: true,
          cell: (each) =>
            html`<a href="/office/commissions?${days}&technician=${each.personId}">${each.name}</a>`,
        },
        {
          header: 'Labor',
          figure: true,
          cell: (each) => money(each.laborMinor, currency),
          total: total((each) => each.laborMinor),
        },
        {
          header: 'Before credits',
          figure: true,
          cell: (each) => money(each.beforeCreditsMinor, currency),
          total: total((each) => each.beforeCreditsMinor),
        },
        {
          header: 'Credits',
          figure: true,
          cell: (each) => money(each.creditsMinor, currency),
          total: total((each) => each.creditsMinor),
        },
        {
          header: 'After credits',
          figure: true,
          cell: (each) => html`<b>${money(each.afterCreditsMinor, currency)}</b>`,
          total: total((each) => each.afterCreditsMinor),
        },
      ],
      rows: technicians,
      empty: emptyState(
        'Nothing invoiced in these days',
        'Commission is earned with the invoice of a repair.',
      ),
    })}`;
}

const eventWords = { invoiced: 'invoiced', credited: 'credited', voided: 'voided' } as const;

/** Vehicle by vehicle, of the technician chosen. */
function entriesTable({ entries, currency }: CommissionsView, technician: PersonId | null): Html | false {
  const own = entries.filter((entry) => entry.technicianId === technician);
  const [first] = own;
  if (first === undefined) return false;
  return dataTable({
    caption: `Vehicles of ${first.technician}`,
    columns: [
      {
        header: 'Work order',
        names: true,
        cell: (entry) =>
          html`<a href="/office/work-orders/${entry.workOrderId}">${workOrderNumber(entry.workOrderNumber)}</a>`,
      },
      { header: 'Vehicle', cell: (entry) => entry.vehicle },
      {
        header: 'Document',
        cell: (entry) =>
          html`<a href="/office/invoices/${entry.invoiceId}">${entry.document}</a>, ${eventWords[entry.kind]} ${dayShown(entry.on)}`,
      },
      {
        header: 'Lines',
        cell: (entry) =>
          entry.lines.map(
            (line, index) =>
              html`${index > 0 && html`<br>`}${line.description}: ${money(line.laborMinor, currency)}`,
          ),
      },
      { header: 'Labor', figure: true, cell: (entry) => money(entry.laborMinor, currency) },
      {
        header: 'Percent',
        figure: true,
        cell: (entry) => (entry.percent === null ? 'not set' : displayPercent(entry.percent)),
      },
      { header: 'Commission', figure: true, cell: (entry) => money(entry.commissionMinor, currency) },
    ],
    rows: own,
    empty: html``,
  });
}

function ratesTable({ frame, rates }: CommissionsPage): Html {
  const mayEnd = allows(frame.me.role, 'change_settings');
  return dataTable({
    caption: 'What is set',
    columns: [
      { header: 'Technician', names: true, cell: (rate) => rate.name },
      { header: 'Percent of labor', figure: true, cell: (rate) => displayPercent(rate.percent) },
      { header: 'From', cell: (rate) => dayShown(rate.validFrom) },
      {
        header: 'To',
        cell: (rate) =>
          rate.validTo === null ? (mayEnd ? endForm(frame, rate) : 'no end') : dayShown(rate.validTo),
      },
    ],
    rows: rates,
    empty: emptyState('Nobody has a commission yet', 'The owner sets it for each technician, from a day on.'),
  });
}

function endForm(frame: Frame, rate: CommissionRateView): Html {
  const id = `end-${rate.id}`;
  return html`<details><summary>no end</summary>
    <form method="post" action="/office/commissions/rates/${rate.id}/end">${hiddenCsrf(frame.csrfToken)}
    ${dateField({ name: 'valid_to', id, label: 'Last day of work', required: true })}
    ${quietButton({ label: 'End it' })}</form></details>`;
}

function rateForm({ frame, staff, form, problem }: CommissionsPage): Html {
  if (!allows(frame.me.role, 'change_settings')) return html``;
  const { errorOf } = problemsOf(problem, formFields);
  return html`<h2>Set a commission</h2>
    <form method="post" action="/office/commissions/rates">
      ${hiddenCsrf(frame.csrfToken)}${hiddenField('id', form.id)}
      ${selectField({ name: 'person_id', label: 'Technician', required: true, empty: 'Choose', choices: staff, value: form.person_id, error: errorOf('person_id') })}
      ${numberField({ name: 'percent', label: 'Of the labor of repairs', unit: '%', required: true, value: form.percent, error: errorOf('percent') })}
      ${dateField({ name: 'valid_from', label: 'First day of work', required: true, value: form.valid_from, error: errorOf('valid_from') })}
      ${actionButton({ label: 'Set it' })}
    </form>`;
}
