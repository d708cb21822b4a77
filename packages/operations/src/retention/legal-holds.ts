import {
  findAccount,
  findWorkOrder,
  insertLegalHold,
  insertLegalHoldEnd,
  type ListedHold,
  listLegalHolds,
} from '@grainwright/db';
import {
  type AccountId,
  type LegalHoldId,
  ok,
  type Result,
  refuse,
  type WorkOrderId,
} from '@grainwright/domain';
import { type Actor, performAsStaff, record, type Scope } from '../perform.ts';
import { readWords } from '../read-input.ts';
import type { Services } from '../services.ts';

export interface LegalHoldInput {
  readonly id: LegalHoldId;
  /** One of the two is named. */
  readonly workOrderId: WorkOrderId | null;
  readonly accountId: AccountId | null;
  readonly reason: string;
}

/**
 * Keeps everything of a work order with its reworks and what it puts right itself, or of an account, from being deleted,
 * whatever the rules say. Refuses with `not_found`, `invalid_input` or `id_reused`.
 */
export function placeLegalHold(
  services: Services,
  actor: Actor,
  { id, workOrderId, accountId, reason }: LegalHoldInput,
): Promise<Result<LegalHoldId>> {
  return performAsStaff(services, actor, 'keep_for_law', async (scope) => {
    const { tx, now } = scope;
    const there = await checkSubject(scope, workOrderId, accountId);
    if (!there.ok) return there;
    const words = readWords(reason, 'reason', 'why it is to be kept', 500);
    if (!words.ok) return words;
    const [earlier] = await listLegalHolds(tx, { id, standingOnly: false });
    const said = { workOrderId, accountId, reason: words.value };
    if (earlier !== undefined) return isSame(earlier, said) ? ok(id) : reusedId;
    const hold = { id, ...said, placedBy: actor.personId, placedAt: now };
    if (!(await insertLegalHold(tx, hold))) return reusedId;
    await record(
      scope,
      'legal_hold_placed',
      { kind: 'legal_hold', id },
      { work_order_id: workOrderId, account_id: accountId, reason: words.value },
    );
    return ok(id);
  });
}

async function checkSubject(
  { tx }: Scope,
  workOrderId: WorkOrderId | null,
  accountId: AccountId | null,
): Promise<Result<true>> {
  if ((workOrderId === null) === (accountId === null))
    return refuse('invalid_input', 'Name one work order or one account.', 'work_order_id');
  if (workOrderId !== null && (await findWorkOrder(tx, workOrderId)) === null)
    return refuse('not_found', 'There is no such work order.', 'work_order_id');
  if (accountId !== null && (await findAccount(tx, accountId)) === null)
    return refuse('not_found', 'There is no such account.', 'account_id');
  return ok(true);
}

function isSame(
  earlier: ListedHold,
  said: Pick<ListedHold, 'workOrderId' | 'accountId' | 'reason'>,
): boolean {
  return (
    earlier.workOrderId === said.workOrderId &&
    earlier.accountId === said.accountId &&
    earlier.reason === said.reason
  );
}

const reusedId = refuse('id_reused', 'This id was already used for another hold. Open the page again.', 'id');

/** Lifts a hold. Refuses with `not_found`, `invalid_input` or `wrong_state`. */
export function liftLegalHold(
  services: Services,
  actor: Actor,
  { id, reason }: { readonly id: LegalHoldId; readonly reason: string },
): Promise<Result<LegalHoldId>> {
  return performAsStaff(services, actor, 'change_retention', async (scope) => {
    const [hold] = await listLegalHolds(scope.tx, { id, standingOnly: false });
    if (hold === undefined) return refuse('not_found', 'There is no such hold.');
    const words = readWords(reason, 'reason', 'why it may go', 500);
    if (!words.ok) return words;
    const end = { holdId: id, reason: words.value, endedBy: actor.personId, endedAt: scope.now };
    if (hold.ended !== null || !(await insertLegalHoldEnd(scope.tx, end)))
      return hold.ended?.reason === words.value
        ? ok(id)
        : refuse('wrong_state', 'This hold was lifted already.');
    await record(scope, 'legal_hold_lifted', { kind: 'legal_hold', id }, { reason: words.value });
    return ok(id);
  });
}

export type LegalHoldView = ListedHold;

/** All holds of the business, those that stand first. */
export function readLegalHolds(services: Services, actor: Actor): Promise<Result<readonly LegalHoldView[]>> {
  return performAsStaff(services, actor, 'keep_for_law', async ({ tx }) =>
    ok(await listLegalHolds(tx, { standingOnly: false })),
  );
}

/** The holds that keep a work order, those on its reworks, on what it puts right and on its account included, or all of an account: whoever sees it of the staff. */
export function readHoldsOver(
  services: Services,
  actor: Actor,
  of: { readonly workOrderId: WorkOrderId | null; readonly accountId: AccountId },
): Promise<Result<readonly LegalHoldView[]>> {
  return performAsStaff(services, actor, 'see_work_orders', async ({ tx }) =>
    ok(await listLegalHolds(tx, { of, standingOnly: true })),
  );
}
