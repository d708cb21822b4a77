import type { StopView, StopWorkOrder } from '@grainwright/operations';
import { fieldLink, quietLink } from '../../../look/buttons.ts';
import { dayText, money } from '../../../look/figures.ts';
import { type Html, html } from '../../../look/html.ts';
import { fieldPage } from '../../../look/layout.ts';
import { emptyState } from '../../../look/tables.ts';
import type { Frame } from '../../person.ts';
import { leftWords, phoneLink, placeWords } from '../../stops/stop-words.ts';
import { certificateNotice } from '../../work-order/certificate-notice.ts';
import { stateShown, waitsForWords, workOrderNumber } from '../../work-order/state-words.ts';
import { questionOpenWords } from '../../work-order/thread-parts.ts';
import { stepOf } from '../next-step.ts';
import { nextVehicleAddress } from '../write-up/next-vehicle.ts';

export interface StopPage {
  readonly frame: Frame;
  readonly stop: StopView & { readonly currency: string };
}

/** A stop: what is left to do there, vehicle by vehicle, each with its next step. */
export function stopPage({ frame, stop }: StopPage): Html {
  const day = stop.day === frame.me.today ? '/field' : `/field?day=${stop.day}`;
  return fieldPage({
    ...frame,
    title: stop.account.name,
    heading: stop.account.name,
    lead: `${dayText(stop.day)}, stop ${stop.position} · ${placeWords(stop)}`,
    current: null,
    body: html`
      ${certificateNotice(stop.certificateWarning, 'business')}
      <p><strong>${leftWords(stop)}</strong></p>
      ${phoneLink(stop)}
      ${stop.workOrders.length === 0 && emptyState('No vehicle yet', 'Write up the first one: it stands here with what comes next.')}
      ${stop.workOrders.map((workOrder) => vehicle(workOrder, stop.currency))}
      ${stop.toSignAtOnce > 1 && html`<p>${quietLink({ label: `One signature for ${stop.toSignAtOnce} finished vehicles`, href: `/field/visits/${stop.visitId}/acceptance` })}</p>`}
      <p>${quietLink({ label: 'All stops of the day', href: day })}</p>`,
    primaryAction: fieldLink({
      label: stop.workOrders.length === 0 ? 'Write up a vehicle here' : 'Next vehicle here',
      href: nextVehicleAddress({ accountId: stop.account.id, siteId: stop.site.id, ...stop }),
    }),
  });
}

function vehicle(workOrder: StopWorkOrder, currency: string): Html {
  const { id, number, numbers, state, waitsFor, repairsMinor } = workOrder;
  const address = `/field/work-orders/${id}`;
  const waits = waitsFor === 'nobody' ? '' : `, waits for ${waitsForWords[waitsFor]}`;
  return html`<section>
    <h2><a href="${address}">${workOrder.vehicle}</a></h2>
    <p class="hint">${[workOrderNumber(number), numbers].filter((part) => part !== '').join(' · ')}</p>
    <p>${stateShown(state)}${waits}${repairsMinor !== null && html`, repairs ${money(repairsMinor, currency)}`}</p>
    ${workOrder.questionOpen && html`<p><a href="${address}#messages">${questionOpenWords}</a></p>`}
    ${nextLink(workOrder)}
  </section>`;
}

function nextLink({ id, next, reworkOfSomething }: StopWorkOrder): Html | null {
  if (next.kind === 'nothing' || next.kind === 'await_approval') return null;
  const { label, href, method } = stepOf(id, next, reworkOfSomething);
  // What is sent at once is looked at first: a link only ever looks.
  const address = method === 'get' ? href : `/field/work-orders/${id}`;
  return html`<p>${quietLink({ label, href: address })}</p>`;
}
