import {
  countWaitingWorkOrders,
  type ListedWorkOrder,
  listBoardTechnicians,
  listLongestWaiting,
  listMissingSignatures,
  listWorkOrderRowsOf,
  type TenantTransaction,
} from '@grainwright/db';
import {
  type AccountId,
  allows,
  type Day,
  daysBetween,
  type MissingSignatureReason,
  ok,
  type PersonId,
  type Result,
  type WaitsFor,
} from '@grainwright/domain';
import { type Actor, performAsStaff } from '../perform.ts';
import type { Services } from '../services.ts';
import { rowView } from './row-view.ts';
import type { WorkOrderRowView } from './work-order-view.ts';

/** What a work order can wait for, in the order of a job. */
export const boardOrder = [
  'technician',
  'approval',
  'po',
  'acceptance',
  'invoice',
  'money',
  'hold',
] as const satisfies readonly WaitsFor[];
export type BoardColumnName = (typeof boardOrder)[number];

export interface ReadBoardInput {
  readonly accountId?: AccountId | undefined;
  readonly technicianId?: PersonId | undefined;
}

export interface BoardCard extends WorkOrderRowView {
  readonly accountId: AccountId;
  readonly holdReason: string | null;
  /** Why nobody signed when it was last asked for, of what waits for its acceptance; else null. */
  readonly notSigned: MissingSignatureReason | null;
  /** The day of its last step, and how many days ago that is. */
  readonly since: Day;
  readonly days: number;
}

export interface BoardColumn {
  readonly waitsFor: BoardColumnName;
  /** All that wait for it; `cards` are those that have waited longest, 12 at most. */
  readonly count: number;
  readonly cards: readonly BoardCard[];
}

/** Amounts of cards are minor units of `currency`: what is approved, else estimated, of repairs. */
export interface BoardView {
  readonly currency: string;
  readonly columns: readonly BoardColumn[];
  /** Whose visits have work on the board, whatever it is narrowed to. */
  readonly technicians: readonly { readonly id: PersonId; readonly name: string }[];
}

const cardsOfAColumn = 12;
const techniciansMax = 100;

/** The work that is not over, by what it waits for, the longest waiting first; for a technician, of their own visits. */
export function readBoard(
  services: Services,
  actor: Actor,
  input: ReadBoardInput = {},
): Promise<Result<BoardView>> {
  return performAsStaff(services, actor, 'see_work_orders', async ({ tx, member, business, today }) => {
    const seesAll = allows(member.role, 'see_all_work_orders');
    const technicianId = seesAll ? input.technicianId : actor.personId;
    const filter = { accountId: input.accountId, technicianId };
    const asked = { ofEach: cardsOfAColumn, timeZone: business.timeZone };
    const places = await listLongestWaiting(tx, filter, asked);
    const rows = await listWorkOrderRowsOf(
      tx,
      places.map(({ id }) => id),
    );
    const byId = new Map(rows.map((row) => [row.id, row]));
    const whys = await whyNotSigned(tx, rows);
    const cards = places.flatMap(({ id, since }) => {
      const row = byId.get(id);
      return row === undefined ? [] : [cardOf(row, { since, today, notSigned: whys.get(id) ?? null })];
    });
    const counts = await countWaitingWorkOrders(tx, filter);
    return ok({
      currency: business.currency,
      columns: boardOrder.map((waitsFor) => ({
        waitsFor,
        count: counts[waitsFor],
        cards: cards.filter((card) => card.waitsFor === waitsFor),
      })),
      technicians: await listBoardTechnicians(tx, seesAll ? {} : filter, techniciansMax),
    });
  });
}

/** The newest reason of each. */
async function whyNotSigned(tx: TenantTransaction, rows: readonly ListedWorkOrder[]) {
  const asked = rows.filter(({ state }) => state === 'done').map(({ id }) => id);
  const missing = await listMissingSignatures(tx, asked);
  return new Map(missing.toReversed().map(({ workOrderId, why }) => [workOrderId, why]));
}

function cardOf(
  row: ListedWorkOrder,
  {
    since,
    today,
    notSigned,
  }: { readonly since: Day; readonly today: Day; readonly notSigned: MissingSignatureReason | null },
): BoardCard {
  const view = rowView(row);
  return {
    ...view,
    accountId: row.account.id,
    holdReason: row.holdReason,
    notSigned: view.waitsFor === 'acceptance' ? notSigned : null,
    since,
    days: Math.max(0, daysBetween(since, today)),
  };
}
