import { addDays, allows, type Day, type Problem } from '@grainwright/domain';
import type { DayView, StopView } from '@grainwright/operations';
import { quietButton, quietLink } from '../../../look/buttons.ts';
import { dayText } from '../../../look/figures.ts';
import {
  type Choice,
  checkboxField,
  dateField,
  hiddenCsrf,
  hiddenField,
  selectField,
} from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { officePage } from '../../../look/layout.ts';
import { notice } from '../../../look/notices.ts';
import { dataTable, emptyState } from '../../../look/tables.ts';
import { problemsOf } from '../../form-problems.ts';
import type { Frame } from '../../person.ts';
import { orderButtons } from '../../stops/order-buttons.ts';
import { placeWords } from '../../stops/stop-words.ts';

export interface OfficeStopsPage {
  readonly frame: Frame;
  readonly view: DayView;
  readonly plan: PlanForm;
  readonly problem: Problem | null;
}

/** What the form for one more stop offers, and what was typed into it. */
export interface PlanForm {
  readonly visitId: string;
  readonly technicians: readonly Choice[];
  readonly places: readonly Choice[];
  readonly typed: { readonly technicianId: string; readonly place: string; readonly afterHours: boolean };
}

/** Every technician's stops of a day in their order, and what is left to do at each. */
export function officeStopsPage(page: OfficeStopsPage): Html {
  const { frame, view, problem } = page;
  return officePage({
    ...frame,
    title: `Stops, ${dayText(view.day)}`,
    heading: 'Stops of a day',
    lead: dayText(view.day),
    current: 'stops',
    body: html`
      ${problem && notice('problem', 'Not done', problem.detail)}
      ${dayForm(view.day)}
      ${view.technicians.length === 0 && emptyState('No stops on this day', 'A stop stands here as soon as it is planned below, or its first vehicle is written up.')}
      ${view.technicians.map((technician) => technicianStops(frame, view, technician))}
      ${allows(frame.me.role, 'write_up') && planForm(page)}`,
  });
}

function dayForm(day: Day): Html {
  const link = (label: string, to: Day) => quietLink({ label, href: `/office/stops?day=${to}` });
  return html`<form method="get" action="/office/stops" class="filters">
    ${dateField({ name: 'day', label: 'Day', value: day })}
    ${quietButton({ label: 'Show' })}
    ${link('Day before', addDays(day, -1))}${link('Day after', addDays(day, 1))}
  </form>`;
}

function planForm({ frame, view, plan, problem }: OfficeStopsPage): Html {
  const { errorOf } = problemsOf(problem, ['technician_id', 'site_id', 'day']);
  const { typed } = plan;
  return html`<section class="unprinted"><h2>Plan a stop</h2>
    <form method="post" action="/office/stops" class="filters">
      ${hiddenCsrf(frame.csrfToken)}${hiddenField('id', plan.visitId)}${hiddenField('day', view.day)}
      ${selectField({ name: 'technician_id', label: 'Technician', empty: 'Choose a person', required: true, error: errorOf('technician_id'), value: typed.technicianId, choices: plan.technicians })}
      ${selectField({ name: 'place', id: 'field-site_id', label: 'Account and place', empty: 'Choose one', required: true, error: errorOf('site_id'), value: typed.place, choices: plan.places })}
      ${checkboxField({ name: 'after_hours', label: 'After hours', checked: typed.afterHours })}
      ${quietButton({ label: 'Plan the stop' })}
    </form></section>`;
}

/** While no vehicle is written up there. */
function dropForm(frame: Frame, stop: StopView): Html | null {
  if (stop.workOrders.length > 0) return null;
  return html`<form method="post" action="/office/stops/${stop.visitId}/drop">${hiddenCsrf(frame.csrfToken)}
    ${hiddenField('day', stop.day)}
    ${quietButton({ label: html`Take off<span class="heard">: ${stop.account.name}, ${stop.site.name}</span>` })}</form>`;
}

function technicianStops(frame: Frame, view: DayView, { name, stops }: DayView['technicians'][number]): Html {
  const order = { action: '/office/stops/order', csrfToken: frame.csrfToken, day: view.day, stops };
  const mayOrder = allows(frame.me.role, 'write_up');
  return html`<section><h2>${name}</h2>${dataTable<StopView>({
    caption: `Stops of ${name}`,
    captionHidden: true,
    rows: stops,
    empty: html`<p>No stop.</p>`,
    columns: [
      { header: 'Stop', figure: true, cell: (stop) => stop.position },
      {
        header: 'Account',
        names: true,
        cell: (stop) => html`<a href="/field/stops/${stop.visitId}">${stop.account.name}</a>`,
      },
      { header: 'Place', cell: placeWords },
      {
        header: 'Telephone',
        cell: ({ phone }) => phone !== null && `${phone.name}, ${phone.phone}`,
      },
      { header: 'Vehicles', figure: true, cell: (stop) => stop.workOrders.length },
      { header: 'Left to do', cell: (stop) => (stop.left === '' ? 'nothing' : stop.left) },
      ...(mayOrder
        ? [
            {
              header: 'Order',
              cell: (stop: StopView) => html`${orderButtons(order, stop)}${dropForm(frame, stop)}`,
            },
          ]
        : []),
    ],
  })}</section>`;
}
