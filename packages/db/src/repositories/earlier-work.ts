import type { AccountId, Day, VehicleId, WorkOrderId } from '@grainwright/domain';
import { and, asc, desc, eq, gte, inArray, isNull, ne, notInArray, or, sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { accounts, people } from '../schema/accounts.ts';
import { decisionLines, vehicles, visits, workOrderLines, workOrders } from '../schema/work-orders.ts';

/** By what a vehicle is recognized. */
export interface KnownVehicle {
  readonly vin: string | null;
  readonly lastEight: string | null;
  readonly accountId: AccountId;
  readonly ownNumber: string;
}

export type EarlierWorkOrder = Awaited<ReturnType<typeof listEarlierWorkOrders>>[number];

const workOrdersMax = 20;

/**
 * Work orders of the same vehicle since a day that are neither void nor declined, the newest first: its VIN, the end
 * of it where one of them has no more, or the account’s own number where no VIN says otherwise.
 */
export async function listEarlierWorkOrders(
  tx: TenantTransaction,
  known: KnownVehicle,
  since: Day,
  except: WorkOrderId | null,
) {
  const { vin, lastEight, accountId, ownNumber } = known;
  const byOwnNumber =
    ownNumber === ''
      ? undefined
      : and(
          eq(workOrders.accountId, accountId),
          eq(workOrders.ownNumber, ownNumber),
          lastEight === null
            ? undefined
            : sql`(${vehicles.lastEight} is null or ${vehicles.lastEight} = ${lastEight})`,
        );
  const byVin =
    lastEight === null
      ? undefined
      : and(
          eq(vehicles.lastEight, lastEight),
          vin === null ? undefined : sql`(${vehicles.vin} is null or ${vehicles.vin} = ${vin})`,
        );
  return tx
    .select({
      id: workOrders.id,
      number: workOrders.number,
      state: workOrders.state,
      accountId: workOrders.accountId,
      accountName: accounts.name,
      ownNumber: workOrders.ownNumber,
      reworkOfId: workOrders.reworkOfId,
      decisionId: workOrders.decisionId,
      day: visits.day,
      vehicle: vehicles,
      technicianName: people.name,
    })
    .from(workOrders)
    .innerJoin(
      vehicles,
      and(eq(vehicles.tenantId, workOrders.tenantId), eq(vehicles.id, workOrders.vehicleId)),
    )
    .innerJoin(visits, and(eq(visits.tenantId, workOrders.tenantId), eq(visits.id, workOrders.visitId)))
    .innerJoin(
      accounts,
      and(eq(accounts.tenantId, workOrders.tenantId), eq(accounts.id, workOrders.accountId)),
    )
    .innerJoin(people, and(eq(people.tenantId, visits.tenantId), eq(people.id, visits.technicianId)))
    .where(
      and(
        eq(workOrders.tenantId, tx.tenantId),
        gte(visits.day, since),
        notInArray(workOrders.state, ['void', 'declined']),
        except === null ? undefined : ne(workOrders.id, except),
        or(byVin, byOwnNumber) ?? sql`false`,
      ),
    )
    .orderBy(desc(visits.day), desc(workOrders.number))
    .limit(workOrdersMax);
}

export type EarlierLine = Awaited<ReturnType<typeof listLinesNotDeclined>>[number];

/** The lines of these work orders that nobody declined, in the order written. */
export async function listLinesNotDeclined(tx: TenantTransaction, workOrderIds: readonly WorkOrderId[]) {
  if (workOrderIds.length === 0) return [];
  const rows = await tx
    .select({ line: workOrderLines, answer: decisionLines.answer })
    .from(workOrderLines)
    .innerJoin(
      workOrders,
      and(eq(workOrders.tenantId, workOrderLines.tenantId), eq(workOrders.id, workOrderLines.workOrderId)),
    )
    .leftJoin(
      decisionLines,
      and(
        eq(decisionLines.tenantId, workOrderLines.tenantId),
        eq(decisionLines.decisionId, workOrders.decisionId),
        eq(decisionLines.lineId, workOrderLines.id),
      ),
    )
    .where(
      and(
        eq(workOrderLines.tenantId, tx.tenantId),
        inArray(workOrderLines.workOrderId, [...workOrderIds]),
        isNull(workOrderLines.withdrawnAt),
      ),
    )
    .orderBy(asc(workOrderLines.position))
    .limit(1_200);
  return rows.filter(({ answer }) => answer !== 'declined').map(({ line }) => line);
}

/** The vehicle of a work order, as `listEarlierWorkOrders` looks for it. */
export async function findKnownVehicle(
  tx: TenantTransaction,
  id: WorkOrderId,
): Promise<(KnownVehicle & { readonly vehicleId: VehicleId; readonly day: Day }) | null> {
  const [row] = await tx
    .select({
      vehicleId: vehicles.id,
      vin: vehicles.vin,
      lastEight: vehicles.lastEight,
      accountId: workOrders.accountId,
      ownNumber: workOrders.ownNumber,
      day: visits.day,
    })
    .from(workOrders)
    .innerJoin(
      vehicles,
      and(eq(vehicles.tenantId, workOrders.tenantId), eq(vehicles.id, workOrders.vehicleId)),
    )
    .innerJoin(visits, and(eq(visits.tenantId, workOrders.tenantId), eq(visits.id, workOrders.visitId)))
    .where(and(eq(workOrders.tenantId, tx.tenantId), eq(workOrders.id, id)));
  return row ?? null;
}

/** The newest work order of the account that has this number for a vehicle with another VIN; null where there is none. */
export async function findOtherOfOwnNumber(
  tx: TenantTransaction,
  accountId: AccountId,
  ownNumber: string,
  lastEight: string,
): Promise<{ readonly number: bigint; readonly lastEight: string } | null> {
  const [row] = await tx
    .select({ number: workOrders.number, lastEight: vehicles.lastEight })
    .from(workOrders)
    .innerJoin(
      vehicles,
      and(eq(vehicles.tenantId, workOrders.tenantId), eq(vehicles.id, workOrders.vehicleId)),
    )
    .where(
      and(
        eq(workOrders.tenantId, tx.tenantId),
        eq(workOrders.accountId, accountId),
        eq(workOrders.ownNumber, ownNumber),
        ne(workOrders.state, 'void'),
        ne(vehicles.lastEight, lastEight),
      ),
    )
    .orderBy(desc(workOrders.number))
    .limit(1);
  return row === undefined || row.lastEight === null
    ? null
    : { number: row.number, lastEight: row.lastEight };
}
