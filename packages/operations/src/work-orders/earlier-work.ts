import {
  type EarlierWorkOrder,
  findKnownVehicle,
  type KnownVehicle,
  listBeforeAndAfter,
  listEarlierWorkOrders,
  listLinesNotDeclined,
} from '@grainwright/db';
import {
  type AccountId,
  addDays,
  type Day,
  isSamePart,
  ok,
  type PhotoId,
  type PlacedLine,
  type Result,
  refuse,
  type WorkOrderId,
  type WorkOrderState,
} from '@grainwright/domain';
import { type Actor, performAsStaff, type Scope } from '../perform.ts';
import type { Services } from '../services.ts';
import { lineFacts } from './line-facts.ts';
import { vehicleWords } from './vehicle-words.ts';

/** A work order of the same vehicle that is not long ago, to be laid beside the one at hand. */
export interface EarlierWorkView {
  readonly id: WorkOrderId;
  readonly number: bigint;
  readonly state: WorkOrderState;
  readonly day: Day;
  readonly accountId: AccountId;
  readonly accountName: string;
  readonly ownNumber: string;
  readonly vehicle: string;
  readonly lastEight: string | null;
  readonly technician: string;
  readonly lines: readonly (PlacedLine & { readonly words: string })[];
  /** So lately that the same part may be one damage written up twice. */
  readonly maybeDuplicate: boolean;
  /** Accepted, of this account and no rework itself, and within the warranty: what comes back is put right without charge. */
  readonly maybeComeback: boolean;
  /** Its first picture of each; null while there is none, or its copy is not made yet. */
  readonly before: PhotoId | null;
  readonly after: PhotoId | null;
}

/** What else was written up of the vehicle of a work order lately, the newest first. Refuses with `not_found`. */
export function listEarlierWork(
  services: Services,
  actor: Actor,
  workOrderId: WorkOrderId,
): Promise<Result<readonly EarlierWorkView[]>> {
  return performAsStaff(services, actor, 'see_work_orders', async (scope) => {
    const found = await earlierWork(scope, workOrderId);
    return found === null ? refuse('not_found', 'There is no such work order.') : ok(found);
  });
}

/** Null where there is no such work order. Its own first order, if it is a rework, is not among them. */
export async function earlierWork(
  scope: Scope,
  workOrderId: WorkOrderId,
): Promise<readonly EarlierWorkView[] | null> {
  const vehicle = await findKnownVehicle(scope.tx, workOrderId);
  return vehicle === null ? null : earlierWorkOf(scope, vehicle, workOrderId);
}

/** As `earlierWork`, of a vehicle on a day, whether or not it has a work order yet. */
export async function earlierWorkOf(
  scope: Scope,
  vehicle: KnownVehicle & { readonly day: Day },
  except: WorkOrderId | null,
): Promise<readonly EarlierWorkView[]> {
  const { duplicateDays, warrantyDays } = scope.business;
  const since = addDays(vehicle.day, -Math.max(duplicateDays, warrantyDays));
  const rows = await listEarlierWorkOrders(scope.tx, vehicle, since, except);
  const ids = rows.map(({ id }) => id);
  const lines = await listLinesNotDeclined(scope.tx, ids);
  const photos = ids.length === 0 ? [] : await listBeforeAndAfter(scope.tx, ids);
  const first = (id: WorkOrderId, purpose: 'before' | 'after') =>
    photos.find((photo) => photo.workOrderId === id && photo.purpose === purpose)?.id ?? null;
  const placed = lines.map((line) => ({ workOrderId: line.workOrderId, ...lineFacts(line) }));
  return rows.map((row) => ({
    ...named(row),
    lines: placed
      .filter((line) => line.workOrderId === row.id)
      .map(({ label, part, side, repairsDamage }) => ({ words: label, part, side, repairsDamage })),
    maybeDuplicate: row.day >= addDays(vehicle.day, -duplicateDays),
    maybeComeback:
      row.accountId === vehicle.accountId &&
      row.reworkOfId === null &&
      reworkable.includes(row.state) &&
      row.day >= addDays(vehicle.day, -warrantyDays),
    before: first(row.id, 'before'),
    after: first(row.id, 'after'),
  }));
}

/** Work that came to its end, so that it can come back. */
export const reworkable: readonly WorkOrderState[] = ['accepted', 'invoiced', 'paid', 'written_off'];

/** The line of a work order, lately or within its warranty, that is of the same part; null where there is none. */
export function sameDamage(
  earlier: readonly EarlierWorkView[],
  line: PlacedLine,
): { readonly workOrder: EarlierWorkView; readonly words: string } | null {
  for (const workOrder of earlier.filter((each) => each.maybeDuplicate || each.maybeComeback)) {
    const same = workOrder.lines.find((other) => isSamePart(other, line));
    if (same !== undefined) return { workOrder, words: same.words };
  }
  return null;
}

function named(row: EarlierWorkOrder) {
  return {
    id: row.id,
    number: row.number,
    state: row.state,
    day: row.day,
    accountId: row.accountId,
    accountName: row.accountName,
    ownNumber: row.ownNumber,
    vehicle: vehicleWords(row.vehicle, row.ownNumber),
    lastEight: row.vehicle.lastEight,
    technician: row.technicianName,
  };
}
