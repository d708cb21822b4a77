import { findAccount, findAccountIdByShortName, insertAccount, lockAccountShortNames } from '@grainwright/db';
import { type AccountId, ok, parseDay, type Result, refuse } from '@grainwright/domain';
import { type Actor, performAsStaff, record } from '../perform.ts';
import { sameContent } from '../same-content.ts';
import type { Services } from '../services.ts';
import { type AccountTermsInput, readAccountTerms } from './account-terms.ts';

export interface AddAccountInput extends AccountTermsInput {
  readonly id: AccountId;
  /** Today where it is left out. */
  readonly openedOn?: string | undefined;
}

/**
 * Opens an account. Refuses with `duplicate` when another account has the short name, with `id_reused` when the id
 * stands for something else.
 */
export function addAccount(
  services: Services,
  actor: Actor,
  input: AddAccountInput,
): Promise<Result<{ id: AccountId }>> {
  return performAsStaff(services, actor, 'change_accounts', async (scope) => {
    const { tx } = scope;
    const { id, openedOn, ...typed } = input;
    const opened = openedOn === undefined ? ok(scope.today) : parseDay(openedOn, 'opened_on');
    if (!opened.ok) return opened;
    const terms = await readAccountTerms(tx, typed, scope.business.currency);
    if (!terms.ok) return terms;
    await lockAccountShortNames(tx);
    if (!(await insertAccount(tx, { id, ...terms.value, openedOn: opened.value, endedOn: null }))) {
      const there = await findAccount(tx, id);
      if (there === null) return shortNameTaken(terms.value.shortName);
      const given = openedOn === undefined ? terms.value : { ...terms.value, openedOn: opened.value };
      return sameContent(there, given)
        ? ok({ id })
        : refuse(
            'id_reused',
            'This id stands for another account, or it was changed since. Send a new id.',
            'id',
          );
    }
    const { shortName, name, kind, tierCode } = terms.value;
    await record(
      scope,
      'account_added',
      { kind: 'account', id },
      { short_name: shortName, name, kind, tier: tierCode },
    );
    return ok({ id });
  });
}

/**
 * Refuses when another account than `id` has the short name; nobody else takes one until the transaction ends, so that
 * the answer holds.
 */
export async function refuseTakenShortName(
  tx: Parameters<typeof findAccountIdByShortName>[0],
  shortName: string,
  id: AccountId,
): Promise<Result<void>> {
  await lockAccountShortNames(tx);
  const holder = await findAccountIdByShortName(tx, shortName);
  return holder === null || holder === id ? ok(undefined) : shortNameTaken(shortName);
}

function shortNameTaken(shortName: string): ReturnType<typeof refuse> {
  return refuse(
    'duplicate',
    `Another account has the short name ${shortName}. Choose a different one.`,
    'short_name',
  );
}
