import { addDays, type Day } from '@grainwright/domain';
import type { TodayView, WorkOrderRowView } from '@grainwright/operations';
import { fieldLink, quietLink } from '../../../look/buttons.ts';
import { dayText, money } from '../../../look/figures.ts';
import { type Html, html } from '../../../look/html.ts';
import { fieldPage } from '../../../look/layout.ts';
import { dataTable, emptyState } from '../../../look/tables.ts';
import type { Frame } from '../../person.ts';
import { certificateNotice } from '../../work-order/certificate-notice.ts';
import { stateShown, waitsForWords, workOrderNumber } from '../../work-order/state-words.ts';

/** A technician's stops of a day and what each vehicle waits for. */
export function todayPage({ frame, today }: { readonly frame: Frame; readonly today: TodayView }): Html {
  const isToday = today.day === frame.me.today;
  return fieldPage({
    ...frame,
    title: isToday ? 'Today' : dayText(today.day),
    heading: isToday ? 'Today' : dayText(today.day),
    lead: isToday ? dayText(today.day) : null,
    current: 'today',
    body: html`
      ${today.stops.length === 0 && nothing(isToday)}
      ${today.stops.map((stop) => stopSection(stop, today.currency))}
      ${otherDays(today.day, frame.me.today)}`,
    primaryAction: fieldLink({ label: 'Write up a vehicle', href: '/field/write-up' }),
  });
}

function nothing(isToday: boolean): Html {
  return emptyState(
    isToday ? 'No stops yet today' : 'No stops on this day',
    isToday
      ? 'A stop stands here with its vehicles as soon as you write the first one up.'
      : 'Nothing was written up by you on this day.',
  );
}

function stopSection(stop: TodayView['stops'][number], currency: string): Html {
  const place = `${stop.account.id}.${stop.site.id}`;
  const where = [
    stop.site.name,
    stop.site.address.replaceAll('\n', ', '),
    stop.afterHours ? 'after hours' : '',
  ]
    .filter((part) => part !== '')
    .join(' · ');
  return html`<section>
    <h2>${stop.account.name}</h2>
    <p class="hint">${where}</p>
    ${certificateNotice(stop.certificateWarning, 'business')}
    ${vehicles(stop.workOrders, stop.account.name, currency)}
    ${stop.toSignAtOnce > 1 && html`<p>${quietLink({ label: `One signature for ${stop.toSignAtOnce} finished vehicles`, href: `/field/visits/${stop.visitId}/acceptance` })}</p>`}
    <p>${quietLink({ label: 'Another vehicle here', href: `/field/write-up?place=${place}` })}</p>
  </section>`;
}

function vehicles(rows: readonly WorkOrderRowView[], accountName: string, currency: string): Html {
  return dataTable({
    caption: `Vehicles at ${accountName}`,
    captionHidden: true,
    rows,
    empty: html`<p>No vehicle yet.</p>`,
    columns: [
      {
        header: 'Vehicle',
        names: true,
        cell: (row) => html`<a href="/field/work-orders/${row.id}">${row.vehicle}</a>`,
      },
      { header: 'Number', cell: (row) => workOrderNumber(row.number) },
      { header: 'Account’s number', cell: (row) => row.numbers },
      { header: 'Status', cell: (row) => stateShown(row.state) },
      { header: 'Waits for', cell: (row) => row.waitsFor !== 'nobody' && waitsForWords[row.waitsFor] },
      {
        header: 'Repairs',
        figure: true,
        cell: (row) => row.repairsMinor !== null && money(row.repairsMinor, currency),
      },
    ],
  });
}

function otherDays(day: Day, today: Day): Html {
  const link = (label: string, to: Day) =>
    quietLink({ label, href: to === today ? '/field' : `/field?day=${to}` });
  return html`<nav class="buttons" aria-label="Other days">
    ${link('Day before', addDays(day, -1))}
    ${day !== today && link('Today', today)}
    ${link('Day after', addDays(day, 1))}
  </nav>`;
}
