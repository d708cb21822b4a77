import {
  type AcceptanceRequest,
  insertWorkOrderStep,
  listAcceptanceRequests,
  listUnanswered,
  lockWorkOrder,
  setUnanswered,
} from '@grainwright/db';
import {
  addSeconds,
  type Day,
  dayAt,
  dayWords,
  type Instant,
  isBefore,
  ok,
  type Result,
  type TenantId,
  type WorkOrderId,
} from '@grainwright/domain';
import type { RecordScope } from '../perform.ts';
import type { Services } from '../services.ts';

/** How a link to a vehicle's owner stands at a moment. */
export type OwnersLinkStands = 'open' | 'answered' | 'taken_back' | 'no_answer';

export function standsAt(request: AcceptanceRequest, now: Instant): OwnersLinkStands {
  if (request.acceptanceId !== null) return 'answered';
  if (request.revokedAt !== null && isBefore(request.revokedAt, request.expiresAt)) return 'taken_back';
  return isBefore(now, request.expiresAt) ? 'open' : 'no_answer';
}

/** The last day on which a link opens. */
export function lastDayOf({ expiresAt }: Pick<AcceptanceRequest, 'expiresAt'>, timeZone: string): Day {
  return dayAt(addSeconds(expiresAt, -1), timeZone);
}

const unansweredAtOnce = 100;

/**
 * The sweep's part: puts on record which links to vehicles' owners nobody answered until their last day. The work stays
 * done and is not accepted; the link can be sent again. Answers how many; done twice it counts each once.
 */
export function noteUnanswered(
  { database, now, newId }: Pick<Services, 'database' | 'now' | 'newId'>,
  tenantId: TenantId,
  timeZone: string,
): Promise<Result<number>> {
  return database.withTenant({ role: 'staff', tenantId }, async (tx) => {
    const at = now();
    const scope = { tx, now: at, newId };
    const unanswered = await listUnanswered(tx, at, unansweredAtOnce);
    // Locked one after the other, in the same order everywhere: one that was answered meanwhile is none of them.
    const ids = [...new Set(unanswered.map(({ workOrderId }) => workOrderId))].toSorted();
    let noted = 0;
    for (const id of ids) {
      const workOrder = await lockWorkOrder(tx, id);
      if (workOrder?.state === 'done') noted += await noteUnansweredOf(scope, id, timeZone);
    }
    return ok(noted);
  });
}

/** As `noteUnanswered` for one work order that the caller has locked: by the sweep, or before its owner is asked again. */
export async function noteUnansweredOf(
  scope: Pick<RecordScope, 'tx' | 'now' | 'newId'>,
  workOrderId: WorkOrderId,
  timeZone: string,
): Promise<number> {
  const requests = await listAcceptanceRequests(scope.tx, workOrderId);
  const unanswered = requests.filter(
    (request) => standsAt(request, scope.now) === 'no_answer' && request.unansweredAt === null,
  );
  for (const request of unanswered) await note(scope, request, timeZone);
  return unanswered.length;
}

async function note(
  { tx, now, newId }: Pick<RecordScope, 'tx' | 'now' | 'newId'>,
  request: AcceptanceRequest,
  timeZone: string,
): Promise<void> {
  await setUnanswered(tx, request.linkId, now);
  await insertWorkOrderStep(tx, {
    id: newId(),
    workOrderId: request.workOrderId,
    event: 'no_answer',
    toState: 'done',
    personId: request.madeBy,
    happenedAt: now,
    note: `${request.ownerName} had not answered by ${dayWords(lastDayOf(request, timeZone))}. No answer is no acceptance.`,
  });
}
