import type { AccountId } from '@grainwright/domain';
import { and, asc, eq } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { vehicles } from '../schema/work-orders.ts';

export type VehicleRow = typeof vehicles.$inferSelect;

export async function insertVehicle(
  tx: TenantTransaction,
  vehicle: Omit<VehicleRow, 'tenantId'>,
): Promise<void> {
  await tx.insert(vehicles).values({ tenantId: tx.tenantId, ...vehicle });
}

/** The account's vehicle with this VIN, the first on record. */
export async function findVehicleByVin(
  tx: TenantTransaction,
  accountId: AccountId,
  vin: string,
): Promise<VehicleRow | null> {
  const [row] = await tx
    .select()
    .from(vehicles)
    .where(and(eq(vehicles.tenantId, tx.tenantId), eq(vehicles.accountId, accountId), eq(vehicles.vin, vin)))
    .orderBy(asc(vehicles.id))
    .limit(1);
  return row ?? null;
}
