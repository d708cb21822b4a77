import {
  findOrInsertVisit,
  findPlace,
  insertWorkOrder,
  insertWorkOrderStep,
  lockNumbers,
  type PlaceRow,
  takeNumber,
  type VehicleRow,
  type VisitRow,
  type WorkOrderRow,
} from '@grainwright/db';
import {
  type AccountId,
  type Day,
  type JsonValue,
  madeOnPhone,
  ok,
  type Result,
  refuse,
  type SiteId,
  toId,
  type VehicleId,
  type VisitId,
  type WorkOrderId,
} from '@grainwright/domain';
import { type Actor, performAsStaff, record, type Scope } from '../perform.ts';
import type { Services } from '../services.ts';
import { earlierWarnings } from './earlier-warnings.ts';
import { contentDigest, idReused, madeBefore } from './first-request.ts';
import { keepAnotherDamage, noticeSameVehicle } from './notice-same-vehicle.ts';
import { placeQuote, wholeQuote } from './place-quote.ts';
import { type ReadWriteUp, readWriteUp, type WriteUpWords } from './read-write-up.ts';
import { vehicleAsWritten } from './vehicle-as-written.ts';
import { chosenVehicle, differences, findOrMakeVehicle, withKnownVin } from './vehicle-of-write-up.ts';

/** A write-up at the vehicle. Texts as typed; empty text is the same as nothing. */
export interface WriteUpInput extends WriteUpWords {
  /** Of the work order, made by the client. */
  readonly id: WorkOrderId;
  /** For the visit, if this is its first vehicle; the server makes one where it is left out. */
  readonly visitId?: VisitId | undefined;
  readonly accountId: AccountId;
  readonly siteId: SiteId;
  /** The day of work; empty: today. */
  readonly day: string;
  readonly afterHours: boolean;
  /** Asked for within the day; left out: it was not. */
  readonly rush?: boolean | undefined;
  /** Of the account's vehicles the one that it is, where that was chosen. */
  readonly vehicleId?: VehicleId | undefined;
  /** Somebody has said that it is another damage than what was written up of this vehicle lately. */
  readonly anotherDamage?: boolean | undefined;
}

export interface WrittenUp {
  readonly workOrderId: WorkOrderId;
  readonly number: bigint;
  /**
   * Sentences for the person at the vehicle, about its VIN and what was written up of it lately; none of them stopped
   * the write-up.
   */
  readonly warnings: readonly string[];
}

/**
 * Writes up a vehicle: the work order gets its number, and the technician's visit to that place on that day is made
 * if this is its first vehicle. A VIN whose check digit does not fit is taken, with a warning. Refuses with `duplicate`
 * while nobody has said that it is another damage than what the account had written up of it lately; and with
 * `invalid_vin`, `invalid_input`, `invalid_date`, `invalid_money`, `number_missing`, `not_found` or `id_reused`.
 */
export function writeUp(services: Services, actor: Actor, input: WriteUpInput): Promise<Result<WrittenUp>> {
  const digest = writeUpDigest(input);
  return performAsStaff(services, actor, 'write_up', async (scope) => {
    const before = await writtenUpBefore(scope, input.id, digest);
    if (!before.ok) return before;
    if (before.value !== null) return ok(before.value);
    const place = await findPlace(scope.tx, input.accountId, input.siteId);
    if (place === null)
      return refuse(
        'not_found',
        'There is no such place of this account. Choose it from the list.',
        'site_id',
      );
    const chosen = await chosenVehicle(scope, input);
    if (!chosen.ok) return chosen;
    const words = withKnownVin(input, chosen.value);
    const read = readWriteUp(words, place, scope.today, scope.business.currency);
    if (!read.ok) return read;
    // Whoever sends the same at the same time waits here, and then finds it made.
    await lockNumbers(scope.tx, 'work_order');
    const again = await writtenUpBefore(scope, input.id, digest);
    if (!again.ok) return again;
    if (again.value !== null) return ok(again.value);
    const known = { ...read.value, accountId: input.accountId };
    const lately = await noticeSameVehicle(scope, known, input.anotherDamage ?? false);
    if (!lately.ok) return lately;
    const visit = await openVisit(scope, input, place, read.value.day);
    if (!visit.ok) return visit;
    const vehicle = chosen.value ?? (await findOrMakeVehicle(scope, input.accountId, read.value));
    const workOrder = workOrderOf(scope, input, read.value, visit.value, vehicle);
    const number = await takeNumber(scope.tx, 'work_order');
    if (!(await insertWorkOrder(scope.tx, { ...workOrder, number }))) return idReused();
    if (read.value.replacement !== null)
      await placeQuote(scope, wholeQuote(scope, input.id, read.value.replacement));
    const warnings = [
      ...read.value.warnings,
      ...differences(vehicle, read.value),
      ...(await earlierWarnings(scope, input.id)),
    ];
    await recordFirstStep(scope, input.id, { number: number.toString(), content: digest, warnings });
    await keepAnotherDamage(scope, input.id, lately.value);
    return ok({ workOrderId: input.id, number, warnings });
  });
}

/** That it is another damage is no content: it is said of the same write-up once it was asked. */
function writeUpDigest({ anotherDamage, vehicleId, ...content }: WriteUpInput): string {
  const chosen = vehicleId === undefined ? {} : { vehicleId };
  return contentDigest({
    ...content,
    ...chosen,
    visitId: content.visitId ?? null,
    rush: content.rush ?? false,
  });
}

/** What this very request made before; null when it is new. */
export async function writtenUpBefore(
  scope: Scope,
  id: WorkOrderId,
  digest: string,
): Promise<Result<WrittenUp | null>> {
  const before = await madeBefore(scope, id, 'work_order_written_up', digest);
  if (!before.ok) return before;
  if (before.value === null) return ok(null);
  const { number, warnings } = before.value;
  return ok({
    workOrderId: id,
    number: BigInt(String(number)),
    warnings: Array.isArray(warnings) ? warnings.map(String) : [],
  });
}

/** The actor’s visit to the place on that day, made if this is its first vehicle. Refuses with `id_reused`. */
export async function openVisit(
  scope: Scope,
  input: Pick<WriteUpInput, 'visitId' | 'afterHours' | 'rush'>,
  place: PlaceRow,
  day: Day,
): Promise<Result<VisitRow>> {
  const visit = await findOrInsertVisit(scope.tx, {
    id: input.visitId ?? toId<VisitId>(scope.newId()),
    accountId: place.accountId,
    siteId: place.siteId,
    technicianId: scope.actor.personId,
    day,
    miles: place.miles,
    afterHours: input.afterHours,
    rush: input.rush ?? false,
    walkIn: place.walkIn,
  });
  if (visit !== null) return ok(visit);
  return refuse('id_reused', 'This visit’s id is another visit’s. Send it under a new id.', 'visit_id');
}

function workOrderOf(
  scope: Scope,
  input: WriteUpInput,
  read: ReadWriteUp,
  visit: VisitRow,
  vehicle: VehicleRow,
): Omit<WorkOrderRow, 'tenantId' | 'number'> {
  const { ownNumber, roNumber, poNumber, ownerName, ownerPhone } = read;
  const { odometerMiles } = read;
  return {
    id: input.id,
    accountId: input.accountId,
    visitId: visit.id,
    vehicleId: vehicle.id,
    state: 'written_up',
    holdReason: null,
    ownNumber,
    roNumber,
    poNumber,
    ownerName,
    ownerPhone,
    odometerMiles,
    voidReason: null,
    voidNote: '',
    duplicateOfId: null,
    noShowFeeMinor: null,
    reworkOfId: null,
    reworkReason: null,
    airbagLampBefore: null,
    airbagLampAfter: null,
    currentVersionId: null,
    decisionId: null,
    writtenUpAt: scope.now,
    madeAt: madeOnPhone(scope.actor.madeAt ?? null, scope.now),
    vehicleAsWritten: vehicleAsWritten(scope.actor, read, vehicle),
  };
}

export async function recordFirstStep(
  scope: Scope,
  id: WorkOrderId,
  detail: JsonValue,
  note = '',
): Promise<void> {
  await insertWorkOrderStep(scope.tx, {
    id: scope.newId(),
    workOrderId: id,
    event: 'written_up',
    toState: 'written_up',
    personId: scope.actor.personId,
    happenedAt: scope.now,
    note,
  });
  await record(scope, 'work_order_written_up', { kind: 'work_order', id }, detail);
}
