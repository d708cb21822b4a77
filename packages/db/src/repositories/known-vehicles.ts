import type { AccountId, Day, VehicleId } from '@grainwright/domain';
import { and, desc, eq, ne, or } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { vehicles, visits, workOrders } from '../schema/work-orders.ts';
import type { VehicleRow } from './vehicles.ts';

/** A vehicle that was written up at an account before, by its newest work order. */
export interface VehicleSeenBefore {
  readonly vehicle: VehicleRow;
  readonly ownNumber: string;
  readonly lastWorkOrderNumber: bigint;
  readonly lastDay: Day;
}

const rowsMax = 50;

/**
 * Vehicles of the account that were written up under this number of its own, or whose VIN ends so; the newest first,
 * each by its newest work order. Empty text is no number.
 */
export async function listVehiclesSeenBefore(
  tx: TenantTransaction,
  accountId: AccountId,
  known: { readonly ownNumber: string; readonly lastEight: string | null },
): Promise<readonly VehicleSeenBefore[]> {
  const matching = [
    ...(known.ownNumber === '' ? [] : [eq(workOrders.ownNumber, known.ownNumber)]),
    ...(known.lastEight === null ? [] : [eq(vehicles.lastEight, known.lastEight)]),
  ];
  if (matching.length === 0) return [];
  const rows = await tx
    .select({
      vehicle: vehicles,
      ownNumber: workOrders.ownNumber,
      lastWorkOrderNumber: workOrders.number,
      lastDay: visits.day,
    })
    .from(workOrders)
    .innerJoin(
      vehicles,
      and(eq(vehicles.tenantId, workOrders.tenantId), eq(vehicles.id, workOrders.vehicleId)),
    )
    .innerJoin(visits, and(eq(visits.tenantId, workOrders.tenantId), eq(visits.id, workOrders.visitId)))
    .where(
      and(
        eq(workOrders.tenantId, tx.tenantId),
        eq(workOrders.accountId, accountId),
        ne(workOrders.state, 'void'),
        or(...matching),
      ),
    )
    .orderBy(desc(visits.day), desc(workOrders.number))
    .limit(rowsMax);
  return [...Map.groupBy(rows, ({ vehicle }) => vehicle.lastEight ?? vehicle.id).values()].flatMap(
    // One vehicle may be on record twice, once without its VIN: the one with more known of it stands for both.
    (same) => {
      const [newest] = same;
      if (newest === undefined) return [];
      return [{ ...newest, vehicle: (same.find(({ vehicle }) => vehicle.vin !== null) ?? newest).vehicle }];
    },
  );
}

/** A vehicle of the account; null where there is none such. */
export async function findVehicleOfAccount(
  tx: TenantTransaction,
  accountId: AccountId,
  id: VehicleId,
): Promise<VehicleRow | null> {
  const [row] = await tx
    .select()
    .from(vehicles)
    .where(and(eq(vehicles.tenantId, tx.tenantId), eq(vehicles.accountId, accountId), eq(vehicles.id, id)));
  return row ?? null;
}
