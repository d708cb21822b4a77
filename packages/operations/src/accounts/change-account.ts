import { type AccountRow, findTaxAreaCode, lockAccount, updateAccount } from '@grainwright/db';
import {
  type AccountId,
  type Day,
  type JsonValue,
  ok,
  parseDay,
  type Result,
  refuse,
} from '@grainwright/domain';
import { type Actor, performAsStaff, record } from '../perform.ts';
import type { Services } from '../services.ts';
import { type AccountTerms, type AccountTermsInput, readAccountTerms } from './account-terms.ts';
import { refuseTakenShortName } from './add-account.ts';

/** Terms that are left out, or undefined, stay as they are. */
type SomeTerms = { readonly [Name in keyof AccountTermsInput]?: AccountTermsInput[Name] | undefined };

export interface ChangeAccountInput extends SomeTerms {
  readonly id: AccountId;
  /** The last day on which new work is taken; null opens it again; left out, it stays. */
  readonly endedOn?: string | null | undefined;
}

/** Changes what is given and leaves the rest. What was issued before keeps the terms it was issued under. */
export function changeAccount(
  services: Services,
  actor: Actor,
  input: ChangeAccountInput,
): Promise<Result<{ id: AccountId }>> {
  return performAsStaff(services, actor, 'change_accounts', async (scope) => {
    const { tx } = scope;
    const { id, endedOn, ...typed } = input;
    const before = await lockAccount(tx, id);
    if (before === null) return refuse('not_found', 'There is no such account.');
    const taxAreaCode = await findTaxAreaCode(tx, before.taxAreaId);
    const given = Object.fromEntries(Object.entries(typed).filter(([, value]) => value !== undefined));
    const terms = await readAccountTerms(tx, { ...termsOf(before, taxAreaCode), ...given });
    if (!terms.ok) return terms;
    const end = readEnd(endedOn, before);
    if (!end.ok) return end;
    const free = await refuseTakenShortName(tx, terms.value.shortName, id);
    if (!free.ok) return free;
    const after = { ...terms.value, endedOn: end.value };
    const changes = changedFields(before, after);
    if (Object.keys(changes).length === 0) return ok({ id });
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
        `The account was opened on ${account.openedOn} and can’t end before. Check the date.`,
        'ended_on',
      )
    : end;
}

function termsOf(
  {
    tenantId: _tenant,
    id: _id,
    openedOn: _opened,
    endedOn: _ended,
    taxAreaId: _area,
    groupId: _group,
    noShowFeeMinor: _fee,
    appliesMoneyItself: _applies,
    statementEmail: _email,
    successorId: _successor,
    ...rest
  }: AccountRow,
  taxAreaCode: string,
): AccountTermsInput {
  return { ...rest, taxAreaCode };
}

/** Before and after of what differs, for the record. */
function changedFields(
  before: AccountTerms & { readonly endedOn: Day | null },
  after: AccountTerms & { readonly endedOn: Day | null },
): { readonly [field: string]: JsonValue } {
  const was: Readonly<Record<string, JsonValue>> = { ...before };
  const becomes: Readonly<Record<string, JsonValue>> = { ...after };
  return Object.fromEntries(
    Object.keys(becomes)
      .filter((field) => was[field] !== becomes[field])
      .map((field) => [field, { from: was[field] ?? null, to: becomes[field] ?? null }]),
  );
}
