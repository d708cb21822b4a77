import type { Instant, InvoiceId } from '@grainwright/domain';
import { issueReady, listInvoices, readInvoice } from '@grainwright/operations';
import { plusMinutes } from './demo-days.ts';
import { must } from './must.ts';
import type { Shot } from './picture-book.ts';
import { minuteOf } from './picture-book.ts';
import { accountOf, type Stage } from './stage.ts';
import { tellWorkOrder } from './tell-work-order.ts';
import type { DemoVisit, DemoWorkOrder } from './work-order.ts';

/** A visit with the moments at which its vehicles' turns come, and the pictures of each. */
export interface PlannedVisit extends Omit<DemoVisit, 'workOrders'> {
  readonly began: Instant;
  readonly workOrders: readonly {
    readonly workOrder: DemoWorkOrder;
    readonly began: Instant;
    readonly shots: readonly Shot[];
  }[];
}

/** Tells a visit, vehicle by vehicle, and issues its invoice where its account's rule has not done so by itself. */
export async function tellVisit(stage: Stage, visit: PlannedVisit): Promise<void> {
  const { services, clock, office } = stage;
  for (const { workOrder, began, shots } of visit.workOrders) {
    clock.at(began);
    await tellWorkOrder(stage, visit, workOrder, shots);
  }
  clock.at(plusMinutes(visit.began, minuteOf.next * visit.workOrders.length));
  const { accountId } = accountOf(stage, visit.account);
  if (visit.notInvoiced !== true) must(await issueReady(services, office, { accountIds: [accountId] }));
  await rememberInvoices(stage, visit.account);
}

async function rememberInvoices(stage: Stage, account: string): Promise<void> {
  const { services, office, remembered } = stage;
  const { accountId } = accountOf(stage, account);
  const newest = must(await listInvoices(services, office, { accountId, openOnly: false, past: null }));
  for (const { id, number } of newest.rows) {
    if (remembered.invoices.has(number)) continue;
    remembered.invoices.set(number, { id, accountId });
    await rememberLines(stage, id, number);
  }
}

async function rememberLines({ services, office, remembered }: Stage, id: InvoiceId, number: string) {
  const invoice = must(await readInvoice(services, office, id));
  for (const line of invoice.vehicles.flatMap((vehicle) => vehicle.lines))
    if (line.lineId !== null) remembered.lines.set(`${number} ${line.code}`, line.lineId);
}
