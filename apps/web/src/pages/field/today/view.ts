import { addDays, type Day, type Problem } from '@grainwright/domain';
import type { StopView, TodayView } from '@grainwright/operations';
import { fieldLink, quietLink } from '../../../look/buttons.ts';
import { dayText } from '../../../look/figures.ts';
import { type Html, html } from '../../../look/html.ts';
import { fieldPage } from '../../../look/layout.ts';
import { notice } from '../../../look/notices.ts';
import { emptyState } from '../../../look/tables.ts';
import type { Frame } from '../../person.ts';
import { orderButtons } from '../../stops/order-buttons.ts';
import { leftWords, phoneLink, placeWords, taskWords } from '../../stops/stop-words.ts';
import { certificateNotice } from '../../work-order/certificate-notice.ts';
import { workOrderNumber } from '../../work-order/state-words.ts';
import { questionOpenWords } from '../../work-order/thread-parts.ts';
import { nextVehicleAddress } from '../write-up/next-vehicle.ts';

export interface TodayPage {
  readonly frame: Frame;
  readonly today: TodayView;
  readonly problem: Problem | null;
}

/** A technician's stops of a day in their order, and what is left to do at each. */
export function todayPage({ frame, today, problem }: TodayPage): Html {
  const isToday = today.day === frame.me.today;
  return fieldPage({
    ...frame,
    title: isToday ? 'Today' : dayText(today.day),
    heading: isToday ? 'Today' : dayText(today.day),
    lead: isToday ? dayText(today.day) : null,
    current: 'today',
    body: html`
      ${problem && notice('problem', 'Not put in order', problem.detail)}
      ${today.stops.length === 0 && nothing(isToday)}
      ${today.stops.map((stop) => stopSection(frame, today, stop))}
      ${leftFromEarlier(today)}
      ${otherDays(today.day, frame.me.today)}`,
    primaryAction: fieldLink({ label: 'Write up a vehicle', href: '/field/write-up' }),
  });
}

function nothing(isToday: boolean): Html {
  return emptyState(
    isToday ? 'No stops yet today' : 'No stops on this day',
    isToday
      ? 'A stop stands here as soon as the office plans it, or you write up its first vehicle.'
      : 'Nothing was planned for you or written up by you on this day.',
  );
}

function stopSection(frame: Frame, { day, stops }: TodayView, stop: StopView): Html {
  const address = `/field/stops/${stop.visitId}`;
  return html`<section>
    <h2><a href="${address}">${stop.position}. ${stop.account.name}</a></h2>
    <p class="hint">${placeWords(stop)}</p>
    <p><strong>${leftWords(stop)}</strong></p>
    ${openVehicles(stop)}
    ${certificateNotice(stop.certificateWarning, 'business')}
    ${stop.toSignAtOnce > 1 && html`<p>${quietLink({ label: `One signature for ${stop.toSignAtOnce} finished vehicles`, href: `/field/visits/${stop.visitId}/acceptance` })}</p>`}
    <div class="buttons">
      ${quietLink({ label: html`Open the stop<span class="heard">: ${stop.account.name}, ${stop.site.name}</span>`, href: address })}
      ${quietLink({ label: 'Next vehicle here', href: nextVehicleAddress({ ...stop, accountId: stop.account.id, siteId: stop.site.id }) })}
      ${phoneLink(stop)}
    </div>
    ${orderButtons({ action: '/field/stops/order', csrfToken: frame.csrfToken, day, stops }, stop)}
  </section>`;
}

/** Each vehicle that something is left to do on, as one line that leads to it. */
function openVehicles({ workOrders }: StopView): Html | null {
  const open = workOrders.filter(({ next, questionOpen }) => next.kind !== 'nothing' || questionOpen);
  if (open.length === 0) return null;
  return html`<ul class="todo">${open.map((workOrder) => openVehicle(workOrder, null))}</ul>`;
}

/** One vehicle with what comes next on it, and where it stood, if that is not said above it. */
function openVehicle(workOrder: StopView['workOrders'][number], where: string | null): Html {
  const { id, vehicle, number, numbers, next, questionOpen } = workOrder;
  return html`<li><a href="/field/work-orders/${id}">
      <span>${vehicle}, ${numbers === '' ? workOrderNumber(number) : numbers}</span>
      ${where !== null && html`<span class="hint">${where}</span>`}
      <span class="hint">${taskWords(next.kind)}</span>
      ${questionOpen && html`<b>${questionOpenWords}</b>`}</a></li>`;
}

/** What was begun on another day and is not accepted yet: nobody else is told of it. */
function leftFromEarlier({ left }: TodayView): Html | null {
  if (left.workOrders.length === 0) return null;
  return html`<section><h2>Left from earlier days</h2>
    <ul class="todo">${left.workOrders.map((each) => openVehicle(each, `${dayText(each.day)}, ${each.accountName}`))}</ul>
    ${left.more && html`<p>${quietLink({ label: 'More that is left', href: '/field?left=all' })}</p>`}
  </section>`;
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
