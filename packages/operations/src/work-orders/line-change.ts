import {
  type BookedPrices,
  type Contact,
  deleteWorkOrderLine,
  findVisit,
  insertWorkOrderLine,
  lastLinePosition,
  listWorkOrderLines,
  loadPriceBook,
  type StaffMember,
  updateWorkOrderLine,
  type WorkOrderLineRow,
  type WorkOrderRow,
  withdrawWorkOrderLine,
} from '@grainwright/db';
import {
  allows,
  type Day,
  type LineId,
  ok,
  type PersonId,
  type Result,
  refuse,
  type WorkOrderId,
  type WorkOrderState,
  workOrderStates,
} from '@grainwright/domain';
import { record, type Scope } from '../perform.ts';
import { toStoredJson } from '../stored-json.ts';
import { openWorkOrder } from '../work-order-path.ts';
import type { PricingRules } from './check-pricing.ts';
import { contentDigest, idReused, madeBefore } from './first-request.ts';
import { lineFacts } from './line-facts.ts';
import { noticeDuplicate } from './notice-duplicate.ts';
import { ratesDayOf } from './price-lines.ts';
import { type LineFields, type LineInput, readLine } from './read-line.ts';

const linesMax = 60;

/** A work order whose lines may be changed now, locked, with the price book that reads them. */
export interface OpenLines {
  readonly workOrder: WorkOrderRow;
  readonly book: BookedPrices;
  /** The day whose rates count. */
  readonly ratesDay: Day;
}

/** Locks a work order while it is written up. Refuses with `wrong_state`, or `not_found`. */
export async function openWrittenUp(scope: Scope, id: WorkOrderId): Promise<Result<OpenLines>> {
  const opened = await openWorkOrder(scope, id);
  if (!opened.ok) return opened;
  if (opened.value.state !== 'written_up') return refuse('wrong_state', lockedSentence(opened.value.state));
  return ok(await linesOf(scope, opened.value));
}

/** The lines of a locked work order, with what prices them. */
export async function linesOf(scope: Scope, workOrder: WorkOrderRow): Promise<OpenLines> {
  const visit = await findVisit(scope.tx, workOrder.visitId);
  if (visit === null) throw new Error('a work order names a visit that is not there');
  return { workOrder, book: await loadPriceBook(scope.tx), ratesDay: ratesDayOf(scope, visit.day) };
}

/** Whoever may give an account prices of its own may also price a line beside the price book. */
function pricingRules(
  { member, business }: Scope,
  { book, ratesDay }: OpenLines,
  before: PricingRules['before'],
): PricingRules {
  const mayPassOverBook = allows(member.role, 'change_accounts');
  const mayPriceByHand = pricesByHand(member);
  return { book, ratesDay, before, mayPriceByHand, mayPassOverBook, currency: business.currency };
}

/** Whether somebody prices by hand: by their role, or because the owner lets them. */
export function pricesByHand(member: StaffMember | Contact): boolean {
  return allows(member.role, 'price_by_hand') || ('pricesByHand' in member && member.pricesByHand);
}

/** Whose price by hand it is: theirs who set it, also when somebody else changes the rest of the line. */
function byHandBy(scope: Scope, line: LineFields, before: WorkOrderLineRow | null): PersonId | null {
  if (line.byHandMinor === null) return null;
  const stays =
    before !== null && before.byHandMinor === line.byHandMinor && before.byHandReason === line.byHandReason;
  return stays ? before.byHandBy : scope.actor.personId;
}

function lockedSentence(state: WorkOrderState): string {
  const name = workOrderStates[state];
  return ['awaiting_approval', 'approved', 'in_work', 'done'].includes(state)
    ? `This work order is “${name}”: its lines stand as they were sent. Send a changed estimate instead.`
    : `This work order is “${name}”, so its lines don’t change any more.`;
}

export interface WrittenLine {
  /** Made by the client. */
  readonly lineId: LineId;
  readonly line: LineInput;
  /** Somebody has said that it is another damage than one of the same part that was written up lately. */
  readonly anotherDamage?: boolean | undefined;
}

/** Adds a line. The same line under the same id is the same line; with other content it is `id_reused`. */
export async function addLineTo(
  scope: Scope,
  lines: OpenLines,
  { lineId: id, line: input, anotherDamage = false }: WrittenLine,
): Promise<Result<true>> {
  const { workOrder } = lines;
  const digest = lineDigest(workOrder.id, input);
  const before = await madeBefore(scope, id, 'line_added', digest);
  if (!before.ok) return before;
  if (before.value !== null) return ok(true);
  const line = readLine(input, pricingRules(scope, lines, null));
  if (!line.ok) return line;
  const rows = await listWorkOrderLines(scope.tx, workOrder.id);
  if (rows.length >= linesMax)
    return refuse(
      'invalid_input',
      `A work order has at most ${linesMax} lines. Write up the rest as another one.`,
    );
  const position = (await lastLinePosition(scope.tx, workOrder.id)) + 1;
  const row = {
    id,
    workOrderId: workOrder.id,
    position,
    layers: null,
    ...line.value,
    byHandBy: byHandBy(scope, line.value, null),
  };
  const facts = lineFacts(row);
  const noticed = await noticeDuplicate(scope, workOrder, facts, anotherDamage);
  if (!noticed.ok) return noticed;
  if (!(await insertWorkOrderLine(scope.tx, row))) return idReused();
  await record(
    scope,
    'line_added',
    { kind: 'line', id },
    { work_order_id: workOrder.id, content: digest, line: toStoredJson(line.value) },
  );
  return ok(true);
}

export function lineDigest(workOrderId: WorkOrderId, input: LineInput): string {
  return contentDigest({ workOrderId, ...input });
}

/** Puts a line in place of what it said. */
export async function changeLineOf(
  scope: Scope,
  lines: OpenLines,
  { lineId: id, line: input, anotherDamage = false }: WrittenLine,
): Promise<Result<true>> {
  const { workOrder } = lines;
  const before = (await listWorkOrderLines(scope.tx, workOrder.id)).find((row) => row.id === id);
  const line = readLine(input, pricingRules(scope, lines, before ?? null));
  if (!line.ok) return line;
  if (before === undefined) return noSuchLine();
  const facts = lineFacts({ ...before, ...line.value });
  const moved = before.part !== line.value.part || before.side !== line.value.side;
  const noticed = moved ? await noticeDuplicate(scope, workOrder, facts, anotherDamage) : ok(true);
  if (!noticed.ok) return noticed;
  const change = { ...line.value, byHandBy: byHandBy(scope, line.value, before) };
  if (!(await updateWorkOrderLine(scope.tx, workOrder.id, id, change))) return noSuchLine();
  await record(
    scope,
    'line_changed',
    { kind: 'line', id },
    { work_order_id: workOrder.id, before: toStoredJson(before), after: toStoredJson(line.value) },
  );
  return ok(true);
}

/**
 * Takes a line away that no photo shows. One with photos stays on record: withdrawn while no estimate was sent, since
 * nobody was asked for it; later it can only be declined.
 */
export async function removeLineFrom(
  scope: Scope,
  { workOrder }: OpenLines,
  id: LineId,
): Promise<Result<true>> {
  const before = (await listWorkOrderLines(scope.tx, workOrder.id)).find((row) => row.id === id);
  if (before === undefined) return noSuchLine();
  const isGone = await deleteWorkOrderLine(scope.tx, workOrder.id, id);
  if (!isGone && workOrder.currentVersionId !== null)
    return refuse(
      'wrong_state',
      'There are photos of this line, so it stays on record. Change it, or let it be declined.',
    );
  if (!isGone) await withdrawWorkOrderLine(scope.tx, workOrder.id, id, scope.now);
  await record(
    scope,
    isGone ? 'line_removed' : 'line_withdrawn',
    { kind: 'line', id },
    { work_order_id: workOrder.id, before: toStoredJson(before) },
  );
  return ok(true);
}

function noSuchLine() {
  return refuse('not_found', 'This work order has no such line. Open it again.');
}
