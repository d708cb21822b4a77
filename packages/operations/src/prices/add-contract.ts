import { findAccount, findContract, insertContract, listContracts, lockPriceBook } from '@grainwright/db';
import { type AccountId, ok, type Result, refuse } from '@grainwright/domain';
import { everyResult } from '../every-result.ts';
import { type Actor, performAsStaff, record } from '../perform.ts';
import { type DatedInput, readPercent, readPeriod, readWords } from '../read-input.ts';
import { sameContent } from '../same-content.ts';
import type { Services } from '../services.ts';
import { periodOf, periodsOverlap, refuseOverlap } from './overlap.ts';

export interface AddContractInput extends DatedInput {
  /** A UUID made by the client. */
  readonly id: string;
  readonly accountId: AccountId;
  /** As the trail of a price says it: “Autumn 2026”. */
  readonly name: string;
  /** Off list, after factors; 0 to 100. */
  readonly discountPercent: string;
  readonly reason: string;
}

/**
 * What was agreed with an account for a time: it goes before the tier's terms; the account's own prices still beat it.
 * Refuses with `duplicate` a period that overlaps another contract of the account, naming both. The owner's to make.
 */
export function addContract(
  services: Services,
  actor: Actor,
  input: AddContractInput,
): Promise<Result<{ id: string }>> {
  return performAsStaff(services, actor, 'change_price_book', async (scope) => {
    const { tx } = scope;
    const { id, accountId } = input;
    const read = everyResult({
      name: readWords(input.name, 'name', 'a name for the contract', 60),
      discountPercent: readPercent(input.discountPercent, 'discount_percent'),
      reason: readWords(input.reason, 'reason', 'why the account has a contract', 200),
      inForce: readPeriod(input),
    });
    if (!read.ok) return read;
    const { inForce, ...rest } = read.value;
    if ((await findAccount(tx, accountId)) === null) return refuse('not_found', 'There is no such account.');
    await lockPriceBook(tx);
    const contract = { id, accountId, ...rest, validFrom: inForce.from, validTo: inForce.to };
    const known = await findContract(tx, id);
    if (known !== null)
      return sameContent(known, contract)
        ? ok({ id })
        : refuse('id_reused', 'This id stands for another contract. Send a new one.', 'id');
    const there = await listContracts(tx, accountId);
    const clash = there.find((each) => periodsOverlap(periodOf(each), inForce));
    if (clash !== undefined) {
      const counted = { what: `The contract “${clash.name}”`, another: 'a contract' };
      return refuseOverlap(counted, inForce, periodOf(clash));
    }
    await insertContract(tx, contract);
    await record(
      scope,
      'contract_added',
      { kind: 'account', id: accountId },
      { name: contract.name, discount_percent: input.discountPercent, valid_from: contract.validFrom },
    );
    return ok({ id });
  });
}
