import { listWorkOrderRows } from '@grainwright/db';
import {
  type AccountId,
  allows,
  ok,
  type PersonId,
  type Result,
  type WaitsFor,
  type WorkOrderState,
} from '@grainwright/domain';
import { type Actor, perform } from '../perform.ts';
import { readOptionalWords } from '../read-input.ts';
import type { Services } from '../services.ts';
import { rowView } from './row-view.ts';
import type { WorkOrderListView } from './work-order-view.ts';

export interface ListWorkOrdersInput {
  readonly state?: WorkOrderState | undefined;
  readonly waitsFor?: WaitsFor | undefined;
  readonly accountId?: AccountId | undefined;
  readonly technicianId?: PersonId | undefined;
  /** A number, a VIN, its last 8, or part of a stock, unit, job, RO or PO number. */
  readonly text?: string | undefined;
  /** Only numbers below it: the `next` of the page before. */
  readonly below?: bigint | undefined;
}

const rowsMax = 50;

/** Work orders, newest number first: all for who may see all, a technician's own, a contact's account's. */
export function listWorkOrders(
  services: Services,
  actor: Actor,
  input: ListWorkOrdersInput = {},
): Promise<Result<WorkOrderListView>> {
  return perform(services, actor, 'see_work_orders', async ({ tx, member, business }) => {
    const text = readOptionalWords(input.text ?? '', 'text', 'what to look for', 60);
    if (!text.ok) return text;
    const ownOnly = actor.accountId === null && !allows(member.role, 'see_all_work_orders');
    const filter = {
      ...input,
      text: text.value,
      accountId: actor.accountId ?? input.accountId,
      technicianId: ownOnly ? actor.personId : input.technicianId,
    };
    const rows = await listWorkOrderRows(tx, filter, rowsMax + 1);
    const shown = rows.slice(0, rowsMax);
    return ok({
      currency: business.currency,
      rows: shown.map(rowView),
      next: rows.length > rowsMax ? (shown.at(-1)?.number ?? null) : null,
    });
  });
}
