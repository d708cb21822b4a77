import { type AccountRow, findTaxAreaCode, lockAccount, updateAccount } from '@grainwright/db';
import {
  type AccountId,
  type Day,
  dayWords,
  formatMinor,
  type JsonValue,
  ok,
  parseDay,
  type Result,
  refuse,
} from '@grainwright/domain';
import { type Actor, performAsStaff, record } from '../perform.ts';
import type { Services } from '../services.ts';
import { type AccountAsSeen, refuseChangedSince } from './account-as-seen.ts';
import { type AccountTerms, type AccountTermsInput, readAccountTerms } from './account-terms.ts';
import { refuseTakenShortName } from './add-account.ts';
import { refuseSuccessor } from './successor.ts';

/** Terms that are left out, or undefined, stay as they are. */
type SomeTerms = { readonly [Name in keyof AccountTermsInput]?: AccountTermsInput[Name] | undefined };

export interface ChangeAccountInput extends SomeTerms {
  readonly id: AccountId;
  /** The last day on which new work is taken; null opens it again; left out, it stays. */
  readonly endedOn?: string | null | undefined;
  /** Who took an ended account over; its own open items stay with it. Null: nobody; left out, it stays. */
  readonly successorId?: AccountId | null | undefined;
  /** What the sender saw: where any of it is different by now, nothing is changed and the refusal names it. */
  readonly seen?: AccountAsSeen | undefined;
}

/**
 * Changes what is given and leaves the rest. What was issued before keeps the terms it was issued under. Refuses with
 * `duplicate` a short name that is taken, with `shown_changed` what was changed since it was seen.
 */
export function changeAccount(
  services: Services,
  actor: Actor,
  input: ChangeAccountInput,
): Promise<Result<{ id: AccountId }>> {
  return performAsStaff(services, actor, 'change_accounts', async (scope) => {
    const { tx, business } = scope;
    const { id, endedOn, successorId, seen, ...typed } = input;
    const before = await lockAccount(tx, id);
    if (before === null) return refuse('not_found', 'There is no such account.');
    const stored = storedTerms(before, await findTaxAreaCode(tx, before.taxAreaId), business.currency);
    const given = Object.fromEntries(Object.entries(typed).filter(([, value]) => value !== undefined));
    const terms = await readAccountTerms(tx, { ...stored, ...given }, business.currency);
    if (!terms.ok) return terms;
    const end = readEnd(endedOn, before);
    if (!end.ok) return end;
    const after = {
      ...terms.value,
      endedOn: end.value,
      successorId: successorId === undefined ? before.successorId : successorId,
    };
    const changes = changedFields(before, after);
    if (Object.keys(changes).length === 0) return ok({ id });
    const { endedOn: ended, successorId: successor } = before;
    const unchanged = refuseChangedSince({ ...stored, endedOn: ended, successorId: successor }, seen);
    if (!unchanged.ok) return unchanged;
    const followed = await refuseSuccessor(tx, id, after);
    if (!followed.ok) return followed;
    const free = await refuseTakenShortName(tx, terms.value.shortName, id);
    if (!free.ok) return free;
    await updateAccount(tx, id, after);
    await record(scope, 'account_changed', { kind: 'account', id }, changes);
    return ok({ id });
  });
}

function readEnd(endedOn: string | null | undefined, account: AccountRow): Result<Day | null> {
  if (endedOn === undefined) return ok(account.endedOn);
  if (endedOn === null) return ok(null);
  const end = parseDay(endedOn.trim(), 'ended_on');
  if (!end.ok) return end;
  return end.value < account.openedOn
    ? refuse(
        'dates_out_of_order',
        `The account was opened on ${dayWords(account.openedOn)} and can’t end before. Check the date.`,
        'ended_on',
      )
    : end;
}

/** The terms as they would be typed in. */
function storedTerms(
  {
    tenantId: _tenant,
    id: _id,
    openedOn: _opened,
    endedOn: _ended,
    taxAreaId: _area,
    noShowFeeMinor,
    successorId: _successor,
    ...rest
  }: AccountRow,
  taxAreaCode: string,
  currency: string,
): AccountTermsInput {
  const noShowFee = noShowFeeMinor === null ? null : formatMinor(noShowFeeMinor, currency);
  return { ...rest, taxAreaCode, noShowFee };
}

type Changeable = AccountTerms & Pick<AccountRow, 'endedOn' | 'successorId'>;

/** Before and after of what differs, for the record. */
function changedFields(before: Changeable, after: Changeable): { readonly [field: string]: JsonValue } {
  const was = new Map<string, JsonValue>(
    Object.entries(before).map(([field, value]) => [field, asJson(value)]),
  );
  return Object.fromEntries(
    Object.entries(after)
      .map(([field, value]) => ({ field, from: was.get(field) ?? null, to: asJson(value) }))
      .filter(({ from, to }) => from !== to)
      .map(({ field, from, to }) => [field, { from, to }]),
  );
}

function asJson(value: string | number | boolean | bigint | null): JsonValue {
  return typeof value === 'bigint' ? value.toString() : value;
}
