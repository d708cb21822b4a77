import type { WorkHeading } from '@grainwright/operations';
import { workOrderNumber } from '../work-order/state-words.ts';

/** The line under the heading of every field page about one work order. */
export function workLead({ number, vehicle, ownNumber, accountName }: WorkHeading): string {
  const own = ownNumber === '' ? '' : `, ${ownNumber}`;
  return `${workOrderNumber(number)} · ${vehicle}${own} · ${accountName}`;
}

export function workOrderPath({ id }: Pick<WorkHeading, 'id'>): string {
  return `/field/work-orders/${id}`;
}
