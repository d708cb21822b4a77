import { leftToDo } from '@grainwright/domain';
import type { PhoneStop } from '@grainwright/operations/phone';
import { fieldLink, quietLink } from '../../../look/buttons.ts';
import { dayText, instantShown } from '../../../look/figures.ts';
import { type Html, html } from '../../../look/html.ts';
import { fieldPage } from '../../../look/layout.ts';
import { notice } from '../../../look/notices.ts';
import { emptyState } from '../../../look/tables.ts';
import { taskWords } from '../../../pages/stops/stop-words.ts';
import { nextTaskOf, type PhoneWork } from '../projection.ts';
import type { Here, Screen } from './screen.ts';
import { orderPath } from './screen.ts';
import { numberedWork } from './work-words.ts';

/** Today’s stops as they were known last, with what was written up here since. */
export const todayScreen: Screen = {
  path: /^\/field\/?$/,
  get: (here) => ({ page: todayPage(here) }),
};

function todayPage({ frame, day, query }: Here): Html {
  const { snapshot, workOrders } = day;
  const asked = query.get('day');
  const stopless = workOrders.filter((work) => !snapshot.stops.some((stop) => isAt(work, stop)));
  return fieldPage({
    ...frame,
    title: 'Today',
    heading: 'Today',
    lead: dayText(snapshot.today),
    current: 'today',
    body: html`
      ${asked !== null && asked !== snapshot.today && notice('info', 'Only today is on this phone', 'Other days need a signal.')}
      <div data-live="today">${snapshot.stops.map((stop) =>
        stopSection(
          stop,
          workOrders.filter((work) => isAt(work, stop)),
        ),
      )}
      ${stopless.length > 0 && html`<section><h2>Written up on this phone</h2>${todo(stopless)}</section>`}
      ${snapshot.stops.length + stopless.length === 0 && emptyState('No stops known here', 'This phone takes along the stops of the day it last had a signal.')}
      <p class="hint">As known ${instantShown(snapshot.takenAt, snapshot.business.timeZone)}.</p></div>`,
    primaryAction: fieldLink({ label: 'Write up a vehicle', href: '/field/write-up' }),
  });
}

/** A vehicle that was written up here belongs to the stop of its account and place, whatever its visit will be. */
function isAt(work: PhoneWork, stop: PhoneStop): boolean {
  return work.visitId === stop.visitId || (work.number === null && work.accountId === stop.accountId);
}

function stopSection(stop: PhoneStop, workOrders: readonly PhoneWork[]): Html {
  const left = leftToDo(workOrders.map((work) => nextTaskOf(work).kind));
  const next = new URLSearchParams({ place: `${stop.accountId}.${stop.siteId}`, day: stop.day });
  const { phone } = stop;
  return html`<section>
    <h2>${stop.position}. ${stop.accountName}</h2>
    <p class="hint">${[stop.siteName, stop.siteAddress.replaceAll('\n', ', ')].filter((part) => part !== '').join(' · ')}</p>
    <p><strong>${workOrders.length === 0 ? 'No open vehicle' : left === '' ? 'Nothing left to do here' : left}</strong></p>
    ${workOrders.length > 0 && todo(workOrders)}
    <div class="buttons">
      ${quietLink({ label: 'Next vehicle here', href: `/field/write-up?${next}` })}
      ${phone && html`<a class="button" href="tel:${phone.phone.replaceAll(/[^+\d]/g, '')}">Call ${phone.name}, ${phone.phone}</a>`}
    </div>
  </section>`;
}

function todo(workOrders: readonly PhoneWork[]): Html {
  return html`<ul class="todo">${workOrders.map(
    (work) => html`<li><a href="${orderPath(work)}">
      <span>${numberedWork(work)}</span>
      <span class="hint">${taskWords(nextTaskOf(work).kind)}</span>
      ${work.waiting.length > 0 && html`<b>not sent yet</b>`}</a></li>`,
  )}</ul>`;
}
