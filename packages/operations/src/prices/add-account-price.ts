import {
  findAccount,
  findAccountPrice,
  hasRate,
  insertAccountPrice,
  listAccountPrices,
  lockPriceBook,
} from '@grainwright/db';
import { type AccountId, ok, parseMoney, type Result, refuse } from '@grainwright/domain';
import { everyResult } from '../every-result.ts';
import { type Actor, performAsStaff, record } from '../perform.ts';
import { type DatedInput, readPeriod, readWords } from '../read-input.ts';
import { sameContent } from '../same-content.ts';
import type { Services } from '../services.ts';
import { fitAmong, periodOf } from './overlap.ts';
import { readRateCode } from './read-code.ts';

export interface AddAccountPriceInput extends DatedInput {
  /** A UUID made by the client. */
  readonly id: string;
  readonly accountId: AccountId;
  readonly code: string;
  readonly price: string;
  readonly reason: string;
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
    const read = everyResult({
      code: readRateCode(input.code),
      priceMinor: parseMoney(input.price, { currency: scope.business.currency, field: 'price' }),
      reason: readWords(input.reason, 'reason', 'why the account has its own price', 200),
      inForce: readPeriod(input),
    });
    if (!read.ok) return read;
    const { inForce, ...rest } = read.value;
    if (rest.priceMinor === 0n) return refuse('invalid_money', 'Write a price above zero.', 'price');
    if ((await findAccount(tx, accountId)) === null) return refuse('not_found', 'There is no such account.');
    if (!(await hasRate(tx, rest.code)))
      return refuse(
        'invalid_input',
        `The price book has no rate ${rest.code}. Choose one of its codes.`,
        'code',
      );
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
