import type { WorkHeading } from '@grainwright/operations';

/** The line under the heading of every field page about one work order. */
export function workLead({ number, vehicle, ownNumber, accountName }: WorkHeading): string {
  const own = ownNumber === '' ? '' : `, ${ownNumber}`;
  return `WO-${number} · ${vehicle}${own} · ${accountName}`;
}

export function workOrderPath({ id }: Pick<WorkHeading, 'id'>): string {
  return `/field/work-orders/${id}`;
}
