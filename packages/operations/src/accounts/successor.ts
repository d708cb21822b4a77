import { type AccountRow, findAccount, type TenantTransaction } from '@grainwright/db';
import { type AccountId, ok, type Result, refuse } from '@grainwright/domain';

const stepsMax = 50;

/**
 * Refuses a successor of an account that has no last day, one that is not there, and one that the account itself
 * followed: a business that was sold goes on under one name.
 */
export async function refuseSuccessor(
  tx: TenantTransaction,
  id: AccountId,
  { endedOn, successorId }: Pick<AccountRow, 'endedOn' | 'successorId'>,
): Promise<Result<void>> {
  if (successorId === null) return ok(undefined);
  if (endedOn === null)
    return refuse(
      'invalid_input',
      'Only an account that ends has a successor. Give it a last day, or leave the successor empty.',
      'successor_id',
    );
  let next: AccountId | null = successorId;
  for (let step = 0; next !== null && step < stepsMax; step += 1) {
    if (next === id)
      return refuse(
        'invalid_input',
        'An account can’t follow itself. Choose who took it over.',
        'successor_id',
      );
    const account: AccountRow | null = await findAccount(tx, next);
    if (account === null)
      return refuse('invalid_input', 'There is no such account to follow.', 'successor_id');
    next = account.successorId;
  }
  return ok(undefined);
}
