import {
  type AccountId,
  type InvoiceId,
  type PersonId,
  toId,
  type VehicleId,
  type WorkOrderId,
} from '@grainwright/domain';
import { and, desc, eq, ilike, inArray, or, type SQL, sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { accounts } from '../schema/accounts.ts';
import { invoices, invoiceWorkOrders } from '../schema/billing.ts';
import { vehicles, visits, workOrders } from '../schema/work-orders.ts';
import { stillStands } from './voids.ts';
import { matching } from './work-order-list.ts';

export interface VehicleSearch {
  /** As for a list of work orders, or part of the vehicle's owner's name; empty: every vehicle. */
  readonly text: string;
  readonly accountId: AccountId | undefined;
  readonly technicianId: PersonId | undefined;
  /** The newest work order's number that the page before ended with. */
  readonly below: bigint | undefined;
  readonly limit: number;
}

/**
 * A vehicle of an account: whatever has the same last eight of a VIN is one, also where it was written up twice; a
 * vehicle without any is one by itself.
 */
export interface FoundVehicle {
  readonly accountId: AccountId;
  readonly key: string;
  /** The newest of its work orders that fit, by which pages go on. */
  readonly newest: bigint;
}

const key = sql<string>`coalesce(${vehicles.lastEight}, ${vehicles.id}::text)`;
const newest = sql<string>`max(${workOrders.number})`;

/** Vehicles that fit, the one with the newest work order first. */
export async function findVehicleKeys(
  tx: TenantTransaction,
  search: VehicleSearch,
): Promise<readonly FoundVehicle[]> {
  const rows = await tx
    .select({ accountId: workOrders.accountId, key, newest })
    .from(workOrders)
    .innerJoin(
      vehicles,
      and(eq(vehicles.tenantId, workOrders.tenantId), eq(vehicles.id, workOrders.vehicleId)),
    )
    .innerJoin(visits, and(eq(visits.tenantId, workOrders.tenantId), eq(visits.id, workOrders.visitId)))
    .where(
      and(
        eq(workOrders.tenantId, tx.tenantId),
        search.accountId && eq(workOrders.accountId, search.accountId),
        search.technicianId && eq(visits.technicianId, search.technicianId),
        search.text === '' ? undefined : fitting(search.text),
      ),
    )
    .groupBy(workOrders.accountId, key)
    .having(search.below === undefined ? undefined : sql`${newest} < ${search.below.toString()}::bigint`)
    .orderBy(desc(newest))
    .limit(search.limit);
  return rows.map((row) => ({ ...row, newest: BigInt(row.newest) }));
}

function fitting(text: string): SQL | undefined {
  const part = `%${text.replace(/[\\%_]/g, '\\$&')}%`;
  const code = text.replace(/[\s-]/g, '').toUpperCase();
  return or(
    matching(text),
    ilike(workOrders.ownerName, part),
    code.length === 17 ? eq(vehicles.lastEight, code.slice(-8)) : undefined,
  );
}

export type WorkOfVehicle = Awaited<ReturnType<typeof listWorkOfVehicles>>[number];

/** Every work order of these vehicles, newest first; five hundred at most. */
export async function listWorkOfVehicles(tx: TenantTransaction, found: readonly FoundVehicle[]) {
  if (found.length === 0) return [];
  const eights = found.map((each) => each.key).filter((each) => each.length === 8);
  const others = found.flatMap((each) => (each.key.length === 8 ? [] : [toId<VehicleId>(each.key)]));
  const accountIds = [...new Set(found.map((each) => each.accountId))];
  const rows = await tx
    .select({
      key,
      id: workOrders.id,
      number: workOrders.number,
      state: workOrders.state,
      ownNumber: workOrders.ownNumber,
      roNumber: workOrders.roNumber,
      poNumber: workOrders.poNumber,
      ownerName: workOrders.ownerName,
      reworkOfId: workOrders.reworkOfId,
      day: visits.day,
      accountId: accounts.id,
      accountName: accounts.name,
      ownNumberKind: accounts.ownNumberKind,
      vehicle: vehicles,
    })
    .from(workOrders)
    .innerJoin(
      accounts,
      and(eq(accounts.tenantId, workOrders.tenantId), eq(accounts.id, workOrders.accountId)),
    )
    .innerJoin(visits, and(eq(visits.tenantId, workOrders.tenantId), eq(visits.id, workOrders.visitId)))
    .innerJoin(
      vehicles,
      and(eq(vehicles.tenantId, workOrders.tenantId), eq(vehicles.id, workOrders.vehicleId)),
    )
    .where(
      and(
        eq(workOrders.tenantId, tx.tenantId),
        inArray(workOrders.accountId, accountIds),
        or(
          eights.length === 0 ? undefined : inArray(vehicles.lastEight, eights),
          others.length === 0 ? undefined : inArray(vehicles.id, others),
        ),
      ),
    )
    .orderBy(desc(workOrders.number))
    .limit(500);
  const wanted = new Set(found.map(pairOf));
  return rows.filter((row) => wanted.has(pairOf(row)));
}

function pairOf({ accountId, key: of }: { readonly accountId: AccountId; readonly key: string }): string {
  return `${accountId} ${of}`;
}

/** The invoice that stands for a work order. */
export interface InvoiceOfWork {
  readonly workOrderId: WorkOrderId;
  readonly id: InvoiceId;
  readonly number: string;
}

/** Of each of these work orders that is on an invoice. Contacts may read it as well. */
export async function listInvoicesOfWork(
  tx: TenantTransaction,
  workOrderIds: readonly WorkOrderId[],
): Promise<readonly InvoiceOfWork[]> {
  if (workOrderIds.length === 0) return [];
  return tx
    .select({
      workOrderId: invoiceWorkOrders.workOrderId,
      id: invoices.id,
      number: invoices.number,
    })
    .from(invoiceWorkOrders)
    .innerJoin(
      invoices,
      and(eq(invoices.tenantId, invoiceWorkOrders.tenantId), eq(invoices.id, invoiceWorkOrders.invoiceId)),
    )
    .where(
      and(
        eq(invoiceWorkOrders.tenantId, tx.tenantId),
        inArray(invoiceWorkOrders.workOrderId, [...workOrderIds]),
        stillStands,
      ),
    );
}
