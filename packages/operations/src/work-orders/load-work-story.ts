import {
  type AcceptanceRequest,
  findCosts,
  findNamedWorkOrder,
  type JoinedWorkOrder,
  type KeyTestRow,
  listAcceptanceRequests,
  listDoneOfVisit,
  listKeyTests,
  listMissingSignatures,
  listReworksOf,
  listStopPoints,
  type MissingSignature,
} from '@grainwright/db';
import { keyVerdict } from '@grainwright/domain';
import { lastDayOf, standsAt } from '../owners/no-answer.ts';
import type { Scope } from '../perform.ts';
import type { KeyTestView, NotSignedView, OwnerLinkView, WorkStoryView } from './work-story-view.ts';

/** What happened to a work order besides being done and paid, as far as the actor may see it. */
export async function loadWorkStory(
  scope: Scope,
  { workOrder, account }: JoinedWorkOrder,
): Promise<WorkStoryView> {
  const { tx } = scope;
  const staff = scope.actor.accountId === null;
  const signsAtOnce = staff && workOrder.state === 'done' && account.acceptanceRule !== 'vehicle_owner';
  const { id, duplicateOfId, reworkOfId, reworkReason } = workOrder;
  const [duplicateOf, first, cameBack, missing, stopPoints, tests, costs, done, requests] = await Promise.all(
    [
      duplicateOfId === null ? null : findNamedWorkOrder(tx, duplicateOfId),
      reworkOfId === null ? null : findNamedWorkOrder(tx, reworkOfId),
      listReworksOf(tx, id),
      listMissingSignatures(tx, [id]),
      listStopPoints(tx, id),
      listKeyTests(tx, id),
      staff ? findCosts(tx, id) : null,
      signsAtOnce ? listDoneOfVisit(tx, workOrder.visitId) : [],
      staff ? listAcceptanceRequests(tx, id) : [],
    ],
  );
  const { voidReason, voidNote, noShowFeeMinor } = workOrder;
  return {
    voided:
      workOrder.state === 'void' ? { reason: voidReason, note: voidNote, duplicateOf, noShowFeeMinor } : null,
    reworkOf: first === null || reworkReason === null ? null : { ...first, reason: reworkReason },
    cameBack: cameBack.flatMap(({ reason, ...order }) => (reason === null ? [] : [{ ...order, reason }])),
    notSigned: missing.map(notSigned),
    stopPoints,
    keyTests: newestOfEachLine(tests).map(keyTest),
    costs,
    toSignAtOnce: done.length,
    ownerLinks: requests.map((request) => ownerLink(scope, request)),
    airbagLamp: { before: workOrder.airbagLampBefore, after: workOrder.airbagLampAfter },
  };
}

function notSigned(row: MissingSignature): NotSignedView {
  const { id, why, reason, witness, recordedBy, recordedAt } = row;
  const { releasedBy, releasedAt, releaseReason } = row;
  const released =
    releasedBy === null || releasedAt === null || releaseReason === null
      ? null
      : { by: releasedBy, at: releasedAt, reason: releaseReason };
  return { id, why, reason, witness, recordedBy, recordedAt, released };
}

function ownerLink({ now, business }: Scope, request: AcceptanceRequest): OwnerLinkView {
  const { linkId, ownerName, phone, email, madeByName, madeAt, outcome } = request;
  return {
    id: linkId,
    ownerName,
    phone,
    email,
    madeBy: madeByName ?? '',
    madeAt,
    lastDay: lastDayOf(request, business.timeZone),
    stands: standsAt(request, now),
    outcome,
  };
}

/** Of sheets with the newest first. */
export function newestOfEachLine(sheets: readonly KeyTestRow[]): readonly KeyTestRow[] {
  return sheets.filter(
    (sheet, index) => sheets.findIndex((other) => other.lineId === sheet.lineId) === index,
  );
}

function keyTest(row: KeyTestRow): KeyTestView {
  const { id, lineId, battery, coating, lock, unlock, trunk, horn, testedAt } = row;
  const sheet = { battery, coating, lock, unlock, trunk, horn };
  return { id, lineId, sheet, verdict: keyVerdict(sheet), testedAt };
}
