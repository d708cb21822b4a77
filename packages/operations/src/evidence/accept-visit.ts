import { createHash } from 'node:crypto';
import {
  findAttendedVisit,
  findVisitSignature,
  insertVisitSignature,
  type SignedVisit,
  type WorkOrderRow,
} from '@grainwright/db';
import {
  type AcceptanceId,
  type AcceptanceOutcome,
  type CopyWish,
  canonicalJson,
  checkVisitAnswer,
  type Instant,
  ok,
  type Result,
  refuse,
  toId,
  type VisitId,
  type VisitSignatureId,
  visitAcceptanceShown,
  type WorkOrderId,
  type WorkOrderState,
} from '@grainwright/domain';
import { thenInvoiceAtOnce } from '../billing/issue-at-once.ts';
import { type CopyGiven, writeCopy } from '../owners/write-copy.ts';
import { type Actor, performAsStaff, record, type Scope } from '../perform.ts';
import type { Services } from '../services.ts';
import { openWorkOrder } from '../work-order-path.ts';
import { isSameAnswer } from './accept-work.ts';
import { type KeptSignature, keepSignature } from './keep-signature.ts';
import { type FittingAnswer, fitAnswer, reusedId, type SignedAnswer, writeAnswer } from './take-answer.ts';

export interface AcceptVisitInput extends SignedAnswer {
  /** Of the signature, made by the client: the same one sent again under it counts once. */
  readonly id: VisitSignatureId;
  readonly visitId: VisitId;
  /** The vehicles that are accepted, each with the digest of what was shown of it. */
  readonly workOrders: readonly { readonly workOrderId: WorkOrderId; readonly shownDigest: string }[];
}

export interface AcceptedVisit {
  readonly id: VisitSignatureId;
  readonly outcome: AcceptanceOutcome;
  readonly acceptedAt: Instant;
  /** Of what was shown of all vehicles together: the SHA-256 of its canonical JSON (RFC 8785). */
  readonly digest: string;
  readonly workOrders: readonly {
    readonly workOrderId: WorkOrderId;
    readonly acceptanceId: AcceptanceId;
    readonly state: WorkOrderState;
  }[];
  /** Where the copy went, if that was said with the answer. */
  readonly copy: CopyGiven | null;
}

/**
 * One signature of the account’s representative for several finished vehicles of one visit, bound to what was shown of
 * all of them; each work order gets its acceptance. One that has changed or is answered already stops all. Refuses as
 * `acceptWork` does, with `signer_not_fitting` where every owner signs for their own vehicle, or `not_found`.
 */
export async function acceptVisit(
  services: Services,
  actor: Actor,
  input: AcceptVisitInput,
): Promise<Result<AcceptedVisit>> {
  const allowed = await performAsStaff(services, actor, 'take_acceptance', async () => ok(true));
  if (!allowed.ok) return allowed;
  const picture = await keepSignature(services, actor.tenantId, input.mark);
  const accepted = await performAsStaff(services, actor, 'take_acceptance', async (scope) => {
    const written = await acceptAll(scope, input, picture);
    return written.ok ? withCopy(services, scope, written.value, input.copy ?? null) : written;
  });
  const [first] = input.workOrders;
  if (first === undefined) return accepted;
  return thenInvoiceAtOnce(services, actor, first.workOrderId, accepted);
}

async function acceptAll(
  scope: Scope,
  input: AcceptVisitInput,
  picture: KeptSignature,
): Promise<Result<AcceptedVisit>> {
  const found = await findAttendedVisit(scope.tx, input.visitId);
  if (found === null) return refuse('not_found', 'There is no such visit.');
  const locked = await lockAll(scope, input);
  if (!locked.ok) return locked;
  const earlier = await findVisitSignature(scope.tx, input.id);
  if (earlier !== null) return sameAgain(earlier, input, locked.value);
  const allowed = checkVisitAnswer(found.account.acceptanceRule, input.outcome, input.workOrders.length);
  if (!allowed.ok) return allowed;
  const fitting = await fitAll(scope, input, picture);
  if (!fitting.ok) return fitting;
  return writeAll(scope, input, found.account.id, fitting.value);
}

/** Where the signer said at once where their copy goes: one for all vehicles. */
async function withCopy(
  services: Services,
  scope: Scope,
  accepted: AcceptedVisit,
  wish: CopyWish | null,
): Promise<Result<AcceptedVisit>> {
  if (wish === null) return ok(accepted);
  const rows = (await findVisitSignature(scope.tx, accepted.id))?.acceptances ?? [];
  const given = await writeCopy(services, scope, { wish, rows, givenBy: scope.actor.personId });
  return given.ok ? ok({ ...accepted, copy: given.value }) : given;
}

/** In the order of their ids, as everybody locks work orders; refuses one of another visit. */
async function lockAll(
  scope: Scope,
  { visitId, workOrders }: AcceptVisitInput,
): Promise<Result<readonly WorkOrderRow[]>> {
  const ids = [...new Set(workOrders.map(({ workOrderId }) => workOrderId))].toSorted();
  const locked: WorkOrderRow[] = [];
  for (const id of ids) {
    const opened = await openWorkOrder(scope, id);
    if (!opened.ok) return opened;
    if (opened.value.visitId !== visitId)
      return refuse(
        'invalid_input',
        `WO-${opened.value.number} is of another visit. One signature covers one visit.`,
        'work_orders',
      );
    locked.push(opened.value);
  }
  return ok(locked);
}

async function fitAll(
  scope: Scope,
  input: AcceptVisitInput,
  picture: KeptSignature,
): Promise<Result<readonly FittingAnswer[]>> {
  const fitting: FittingAnswer[] = [];
  for (const { workOrderId, shownDigest } of input.workOrders) {
    const acceptanceId = toId<AcceptanceId>(scope.newId());
    const fits = await fitAnswer(scope, { ...input, acceptanceId, workOrderId, shownDigest }, picture);
    if (!fits.ok) return fits;
    fitting.push(fits.value);
  }
  return ok(fitting);
}

async function writeAll(
  scope: Scope,
  { id, visitId, outcome }: AcceptVisitInput,
  accountId: WorkOrderRow['accountId'],
  fitting: readonly FittingAnswer[],
): Promise<Result<AcceptedVisit>> {
  const shown = canonicalJson(
    visitAcceptanceShown(
      visitId,
      fitting.map((each) => each.shown),
    ),
  );
  const digest = createHash('sha256').update(shown, 'utf8').digest('hex');
  const signature = { id, accountId, visitId, shown, shownDigest: digest };
  const inserted = await insertVisitSignature(scope.tx, {
    ...signature,
    takenBy: scope.actor.personId,
    signedAt: scope.now,
  });
  if (!inserted) return reusedId();
  const workOrders = [];
  for (const each of fitting) {
    const written = await writeAnswer(scope, each, id);
    if (!written.ok) return written;
    const { acceptanceId, state } = written.value;
    workOrders.push({ workOrderId: each.row.workOrderId, acceptanceId, state });
  }
  const detail = { visit_id: visitId, digest, work_order_ids: workOrders.map((each) => each.workOrderId) };
  await record(scope, 'visit_accepted', { kind: 'visit_signature', id }, detail);
  return ok({ id, outcome, acceptedAt: scope.now, digest, workOrders, copy: null });
}

function sameAgain(
  { signature, acceptances }: SignedVisit,
  input: AcceptVisitInput,
  locked: readonly WorkOrderRow[],
): Result<AcceptedVisit> {
  const asked = new Map(input.workOrders.map((each) => [each.workOrderId, each.shownDigest]));
  const same =
    signature.visitId === input.visitId &&
    asked.size === acceptances.length &&
    acceptances.every((row) => asked.get(row.workOrderId) === row.shownDigest && isSameAnswer(row, input));
  if (!same) return reusedId();
  const states = new Map(locked.map((row) => [row.id, row.state]));
  return ok({
    id: signature.id,
    outcome: input.outcome,
    acceptedAt: signature.signedAt,
    digest: signature.shownDigest,
    copy: null,
    workOrders: input.workOrders.flatMap(({ workOrderId }) => {
      const row = acceptances.find((each) => each.workOrderId === workOrderId);
      const state = states.get(workOrderId);
      return row === undefined || state === undefined ? [] : [{ workOrderId, acceptanceId: row.id, state }];
    }),
  });
}
