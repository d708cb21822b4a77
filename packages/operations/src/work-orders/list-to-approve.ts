import { type Contact, listApprovedBefore, listToApproveRows, type ToApproveRow } from '@grainwright/db';
import {
  type Answerer,
  type AnswerRight,
  answerRight,
  type Day,
  dayAt,
  daysBetween,
  type Instant,
  limitAmount,
  ok,
  type PhotoId,
  type Result,
  type WorkOrderId,
} from '@grainwright/domain';
import { type Actor, performAsContact, type Scope } from '../perform.ts';
import type { Services } from '../services.ts';
import { vehicleWords } from './vehicle-words.ts';
import type { WorkOrderView } from './work-order-view.ts';

/** A work order that waits for the account's answer. Amounts are minor units of `currency`. */
export interface ToApproveView {
  readonly id: WorkOrderId;
  readonly number: bigint;
  readonly vehicle: string;
  readonly numbers: WorkOrderView['numbers'];
  readonly holdReason: string | null;
  /** The lines in words, in the order written. */
  readonly lines: readonly string[];
  readonly photoId: PhotoId | null;
  readonly photoCount: number;
  readonly version: number;
  readonly currency: string;
  readonly totalMinor: bigint;
  /** Before tax, to stand against what new parts for it were quoted at; null without a quote. */
  readonly netMinor: bigint;
  readonly quotedMinor: bigint | null;
  /** What was approved of an earlier version, with tax; null where nothing was. */
  readonly approvedBeforeMinor: bigint | null;
  /** Repairs, after-hours and rush, before trip and tax: what a limit is compared with. */
  readonly comparedMinor: bigint;
  /** Whether the reader may approve all of it; false also for those who may approve nothing. */
  readonly withinLimit: boolean;
  readonly askedAt: Instant;
  readonly ageDays: number;
  readonly expiresOn: Day;
  readonly expired: boolean;
}

export interface ToApproveList {
  readonly rows: readonly ToApproveView[];
  /** The number after which the next page begins; null on the last. */
  readonly next: bigint | null;
}

const rowsMax = 30;

/** What waits for an answer of the contact's account, oldest work order first. */
export function listToApprove(
  services: Services,
  actor: Actor,
  input: { readonly after?: bigint | undefined } = {},
): Promise<Result<ToApproveList>> {
  return performAsContact(services, actor, 'see_work_orders', async (scope) =>
    ok(await toApprovePage(scope, { after: input.after ?? 0n, rowsMax })),
  );
}

/** What waits for an answer after a number, as `listToApprove` tells it. */
export async function toApprovePage(
  { tx, member, business, today }: Scope<Contact>,
  page: { readonly after: bigint; readonly rowsMax: number },
): Promise<ToApproveList> {
  const asked = { after: page.after, limit: page.rowsMax + 1 };
  const found = await listToApproveRows(tx, member.accountId, asked);
  const shown = found.slice(0, page.rowsMax);
  const before = await listApprovedBefore(
    tx,
    shown.map((row) => row.workOrder.id),
  );
  const next = found.length > page.rowsMax ? (shown.at(-1)?.workOrder.number ?? null) : null;
  const reader = {
    before,
    answerer: member,
    timeZone: business.timeZone,
    today,
  };
  return { rows: shown.map((row) => toApproveView(row, reader)), next };
}

interface Reader {
  readonly before: ReadonlyMap<WorkOrderId, bigint>;
  readonly answerer: Answerer;
  readonly timeZone: string;
  readonly today: Day;
}

function toApproveView({ workOrder, version, ...row }: ToApproveRow, reader: Reader): ToApproveView {
  const comparedMinor = limitAmount(version.repairsMinor, version.afterHoursMinor, version.rushMinor);
  const expired = version.expiresOn < reader.today;
  return {
    id: workOrder.id,
    number: workOrder.number,
    vehicle: vehicleWords(row.vehicle, workOrder.ownNumber),
    numbers: {
      ownKind: row.ownNumberKind,
      own: workOrder.ownNumber,
      ro: workOrder.roNumber,
      po: workOrder.poNumber,
    },
    holdReason: workOrder.holdReason,
    lines: row.lines,
    photoId: row.photoId,
    photoCount: row.photoCount,
    version: version.version,
    currency: version.currency,
    totalMinor: version.totalMinor,
    netMinor: version.totalMinor - version.taxMinor,
    quotedMinor: row.quotedMinor,
    approvedBeforeMinor: reader.before.get(workOrder.id) ?? null,
    comparedMinor,
    withinLimit: !expired && covers(answerRight(reader.answerer, comparedMinor), comparedMinor),
    askedAt: version.madeAt,
    ageDays: daysBetween(dayAt(version.madeAt, reader.timeZone), reader.today),
    expiresOn: version.expiresOn,
    expired,
  };
}

function covers(right: AnswerRight | null, comparedMinor: bigint): boolean {
  return right !== null && (right.limitMinor === null || comparedMinor <= right.limitMinor);
}
