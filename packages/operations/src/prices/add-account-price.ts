import {
  findAccount,
  findAccountPrice,
  insertAccountPrice,
  listAccountPrices,
  lockPriceBook,
} from '@grainwright/db';
import { type AccountId, ok, type Result, refuse } from '@grainwright/domain';
import { type Actor, performAsStaff, record } from '../perform.ts';
import { sameContent } from '../same-content.ts';
import type { Services } from '../services.ts';
import { fitAmong, periodOf } from './overlap.ts';
import { type OwnPriceInput, readOwnPrice } from './read-own-price.ts';

export interface AddAccountPriceInput extends OwnPriceInput {
  /** A UUID made by the client. */
  readonly id: string;
  readonly accountId: AccountId;
}

/** One account's own price for a repair, in place of list, factor and tier. The owner's to give. */
export function addAccountPrice(
  services: Services,
  actor: Actor,
  input: AddAccountPriceInput,
): Promise<Result<{ id: string }>> {
  return performAsStaff(services, actor, 'change_price_book', async (scope) => {
    const { tx } = scope;
    const { id, accountId } = input;
    if ((await findAccount(tx, accountId)) === null) return refuse('not_found', 'There is no such account.');
    const read = await readOwnPrice(scope, input, 'the account');
    if (!read.ok) return read;
    const { inForce, ...rest } = read.value;
    await lockPriceBook(tx);
    const price = { id, accountId, ...rest, validFrom: inForce.from, validTo: inForce.to };
    const known = await findAccountPrice(tx, id);
    if (known !== null)
      return sameContent(known, price)
        ? ok({ id })
        : refuse('id_reused', 'This id stands for another price. Send a new one.', 'id');
    const periods = (await listAccountPrices(tx, accountId))
      .filter((each) => each.code === price.code)
      .map(periodOf);
    const counted = { what: `This account’s own price for ${price.code}`, another: 'a price' };
    const fits = fitAmong(counted, inForce, periods, 'allowed');
    if (!fits.ok) return fits;
    await insertAccountPrice(tx, price);
    await record(
      scope,
      'account_price_added',
      { kind: 'account', id: accountId },
      { code: price.code, price_minor: price.priceMinor.toString() },
    );
    return ok({ id });
  });
}
