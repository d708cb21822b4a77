import type { TaskKind } from '@grainwright/domain';
import type { StopView } from '@grainwright/operations';
import { type Html, html } from '../../look/html.ts';

/** Where a stop is, and what is special about it, in one line. */
export function placeWords({ site, afterHours, rush }: StopView): string {
  return [site.name, site.address.replaceAll('\n', ', '), afterHours ? 'after hours' : '', rush ? 'rush' : '']
    .filter((part) => part !== '')
    .join(' · ');
}

/** How many vehicles stand there and what is left to do: “7 vehicles: 2 to photograph, 1 to accept”. */
export function leftWords({ workOrders, left }: StopView): string {
  const count = workOrders.filter(({ state }) => state !== 'void').length;
  if (count === 0) return 'No vehicle written up yet';
  const vehicles = count === 1 ? '1 vehicle' : `${count} vehicles`;
  return `${vehicles}: ${left === '' ? 'nothing left to do here' : left}`;
}

export function phoneLink({ phone }: StopView): Html | null {
  if (phone === null) return null;
  return html`<a class="button" href="tel:${phone.phone.replaceAll(/[^+\d]/g, '')}">Call ${phone.name}, ${phone.phone}</a>`;
}

/** What comes next on one vehicle, in a few words. */
export function taskWords(task: TaskKind): string {
  return nextWords[task];
}

const nextWords: Readonly<Record<TaskKind, string>> = {
  add_line: 'write up the damage',
  price: 'put a price on a line',
  before_photo: 'take the before picture',
  send: 'send the estimate',
  await_approval: 'waits for approval',
  await_hold: 'on hold',
  start: 'read the cautions and start',
  test_key: 'test the key remote',
  after_photo: 'take the next pictures',
  finish: 'finish the work',
  put_right: 'not accepted: put it right',
  hand_over: 'hand over for acceptance',
  nothing: 'nothing left to do',
};
