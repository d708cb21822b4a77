import type {
  AcceptanceId,
  AccountId,
  DamageKind,
  LineId,
  Method,
  PartPosition,
  VehiclePart,
  WorkOrderId,
} from '@grainwright/domain';
import { and, asc, eq } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { contacts, people } from '../schema/accounts.ts';
import { acceptances, vehicleOwnerLines } from '../schema/evidence.ts';
import { type VehicleAsWritten, vehicles, workOrders } from '../schema/work-orders.ts';
import type { AcceptanceRow } from './work-order-evidence.ts';

/** Inserts unless the id is taken or the work order is already accepted; answers whether it did. */
export async function insertAcceptance(
  tx: TenantTransaction,
  acceptance: Omit<AcceptanceRow, 'tenantId'>,
): Promise<boolean> {
  const inserted = await tx
    .insert(acceptances)
    .values({ tenantId: tx.tenantId, ...acceptance })
    .onConflictDoNothing()
    .returning({ id: acceptances.id });
  return inserted.length === 1;
}

export async function findAcceptance(tx: TenantTransaction, id: AcceptanceId): Promise<AcceptanceRow | null> {
  const [row] = await tx
    .select()
    .from(acceptances)
    .where(and(eq(acceptances.tenantId, tx.tenantId), eq(acceptances.id, id)));
  return row ?? null;
}

/** Names of the account's people, to notice a payer who signs as the vehicle's owner. */
export async function listContactNames(
  tx: TenantTransaction,
  accountId: AccountId,
): Promise<readonly string[]> {
  const rows = await tx
    .select({ name: people.name })
    .from(contacts)
    .innerJoin(people, and(eq(people.tenantId, contacts.tenantId), eq(people.id, contacts.personId)))
    .where(and(eq(contacts.tenantId, tx.tenantId), eq(contacts.accountId, accountId)))
    .limit(500);
  return rows.map(({ name }) => name);
}

export type OwnersVehicle = VehicleAsWritten;

/** The vehicle of a work order as its owner signs for it: as it was written up, else as it is on record. */
export async function findOwnersVehicle(
  tx: TenantTransaction,
  workOrderId: WorkOrderId,
): Promise<OwnersVehicle | null> {
  const [row] = await tx
    .select({
      asWritten: workOrders.vehicleAsWritten,
      vin: vehicles.vin,
      lastEight: vehicles.lastEight,
      modelYear: vehicles.modelYear,
      make: vehicles.make,
      model: vehicles.model,
      color: vehicles.color,
    })
    .from(workOrders)
    .innerJoin(
      vehicles,
      and(eq(vehicles.tenantId, workOrders.tenantId), eq(vehicles.id, workOrders.vehicleId)),
    )
    .where(and(eq(workOrders.tenantId, tx.tenantId), eq(workOrders.id, workOrderId)));
  if (row === undefined) return null;
  const { asWritten, ...onRecord } = row;
  return asWritten ?? onRecord;
}

export interface OwnersLine {
  readonly id: LineId;
  readonly part: VehiclePart;
  readonly side: PartPosition | '';
  readonly damage: DamageKind;
  readonly methods: readonly Method[];
  readonly family: string;
  readonly repairsDamage: boolean;
}

/** The approved lines as the vehicle's owner may see them, in the order written. */
export async function listOwnersLines(
  tx: TenantTransaction,
  workOrderId: WorkOrderId,
): Promise<readonly OwnersLine[]> {
  return tx
    .select({
      id: vehicleOwnerLines.id,
      part: vehicleOwnerLines.part,
      side: vehicleOwnerLines.side,
      damage: vehicleOwnerLines.damage,
      methods: vehicleOwnerLines.methods,
      family: vehicleOwnerLines.family,
      repairsDamage: vehicleOwnerLines.repairsDamage,
    })
    .from(vehicleOwnerLines)
    .where(and(eq(vehicleOwnerLines.tenantId, tx.tenantId), eq(vehicleOwnerLines.workOrderId, workOrderId)))
    .orderBy(asc(vehicleOwnerLines.position))
    .limit(200);
}
