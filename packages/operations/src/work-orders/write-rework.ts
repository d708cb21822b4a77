import {
  findPlace,
  findWorkOrder,
  insertWorkOrder,
  type JoinedWorkOrder,
  lockNumbers,
  takeNumber,
  type VisitRow,
} from '@grainwright/db';
import {
  addDays,
  type Day,
  madeOnPhone,
  ok,
  parseDay,
  type Result,
  type ReworkReason,
  refuse,
  type SiteId,
  type VisitId,
  type WorkOrderId,
  workOrderStates,
} from '@grainwright/domain';
import { type Actor, performAsStaff, type Scope } from '../perform.ts';
import type { Services } from '../services.ts';
import { reworkable } from './earlier-work.ts';
import { contentDigest, idReused } from './first-request.ts';
import { openVisit, recordFirstStep, type WrittenUp, writtenUpBefore } from './write-up.ts';

export interface WriteReworkInput {
  /** Of the rework, made by the client. */
  readonly id: WorkOrderId;
  /** For the visit, if this is its first vehicle; the server makes one where it is left out. */
  readonly visitId?: VisitId | undefined;
  /** What it is put right of. Where that was a rework itself, the first order is meant. */
  readonly reworkOfId: WorkOrderId;
  /** Where it is put right; the place of the first order where it is left out. */
  readonly siteId?: SiteId | undefined;
  readonly reason: ReworkReason;
  /** The day of work; empty: today. */
  readonly day: string;
  readonly afterHours: boolean;
  /** Asked for within the day; left out: it was not. */
  readonly rush?: boolean | undefined;
}

/**
 * Writes up work that came back, to be put right without charge: of the same vehicle and account, with its own number,
 * linked to the first order. It gets lines and photos like any other, needs nobody’s approval and ends when it is
 * accepted. Refuses with `wrong_state` (the first order was not accepted yet), `invalid_date`, `not_found` or
 * `id_reused`.
 */
export function writeRework(
  services: Services,
  actor: Actor,
  input: WriteReworkInput,
): Promise<Result<WrittenUp>> {
  const { visitId = null, siteId = null, rush = false } = input;
  const digest = contentDigest({ ...input, visitId, siteId, rush });
  return performAsStaff(services, actor, 'write_up', async (scope) => {
    const before = await writtenUpBefore(scope, input.id, digest);
    if (!before.ok) return before;
    if (before.value !== null) return ok(before.value);
    const first = await firstOrder(scope, input.reworkOfId);
    if (!first.ok) return first;
    const place = await findPlace(scope.tx, first.value.account.id, input.siteId ?? first.value.site.id);
    if (place === null)
      return refuse(
        'not_found',
        'There is no such place of this account. Choose it from the list.',
        'site_id',
      );
    const day = readDay(scope, input.day, first.value.visit.day);
    if (!day.ok) return day;
    // Whoever sends the same at the same time waits here, and then finds it made.
    await lockNumbers(scope.tx, 'work_order');
    const again = await writtenUpBefore(scope, input.id, digest);
    if (!again.ok) return again;
    if (again.value !== null) return ok(again.value);
    const visit = await openVisit(scope, input, place, day.value);
    return visit.ok ? store(scope, input, { first: first.value, visit: visit.value, digest }) : visit;
  });
}

async function firstOrder(scope: Scope, id: WorkOrderId): Promise<Result<JoinedWorkOrder>> {
  const found = await findWorkOrder(scope.tx, id);
  const first =
    found === null || found.workOrder.reworkOfId === null
      ? found
      : await findWorkOrder(scope.tx, found.workOrder.reworkOfId);
  if (first === null) return refuse('not_found', 'There is no such work order.', 'rework_of_id');
  const { number, state } = first.workOrder;
  if (reworkable.includes(state)) return ok(first);
  return refuse(
    'wrong_state',
    `WO-${number} is “${workOrderStates[state]}”. What was not accepted yet is put right on it; only accepted work comes back.`,
    'rework_of_id',
  );
}

const daysAheadMax = 60;

function readDay({ today }: Scope, text: string, firstDay: Day): Result<Day> {
  const day = text.trim() === '' ? ok(today) : parseDay(text.trim(), 'day');
  if (!day.ok) return day;
  if (day.value < firstDay)
    return refuse('invalid_date', 'Work comes back after it was done. Check the day of work.', 'day');
  if (day.value > addDays(today, daysAheadMax))
    return refuse(
      'invalid_date',
      `Work is written up at most ${daysAheadMax} days ahead. Check the day of work.`,
      'day',
    );
  return day;
}

interface Found {
  readonly first: JoinedWorkOrder;
  readonly visit: VisitRow;
  readonly digest: string;
}

async function store(
  scope: Scope,
  input: WriteReworkInput,
  { first, visit, digest }: Found,
): Promise<Result<WrittenUp>> {
  const {
    id: reworkOfId,
    ownNumber,
    roNumber,
    ownerName,
    ownerPhone,
    vehicleId,
    vehicleAsWritten,
  } = first.workOrder;
  const number = await takeNumber(scope.tx, 'work_order');
  const inserted = await insertWorkOrder(scope.tx, {
    id: input.id,
    number,
    accountId: first.account.id,
    visitId: visit.id,
    vehicleId,
    state: 'written_up',
    holdReason: null,
    ownNumber,
    roNumber,
    poNumber: '',
    ownerName,
    ownerPhone,
    odometerMiles: null,
    voidReason: null,
    voidNote: '',
    duplicateOfId: null,
    noShowFeeMinor: null,
    reworkOfId,
    reworkReason: input.reason,
    airbagLampBefore: null,
    airbagLampAfter: null,
    currentVersionId: null,
    decisionId: null,
    writtenUpAt: scope.now,
    madeAt: madeOnPhone(scope.actor.madeAt ?? null, scope.now),
    vehicleAsWritten,
  });
  if (!inserted) return idReused();
  const note = `Rework without charge of WO-${first.workOrder.number}.`;
  const detail = { number: number.toString(), content: digest, warnings: [], rework_of_id: reworkOfId };
  await recordFirstStep(scope, input.id, detail, note);
  return ok({ workOrderId: input.id, number, warnings: [] });
}
