import {
  findTier,
  findTierPrice,
  hasRate,
  insertTierPrice,
  listTierPrices,
  lockPriceBook,
} from '@grainwright/db';
import { ok, parseMoney, type Result, refuse } from '@grainwright/domain';
import { everyResult } from '../every-result.ts';
import { type Actor, performAsStaff, record } from '../perform.ts';
import { type DatedInput, readPeriod, readWords } from '../read-input.ts';
import { sameContent } from '../same-content.ts';
import type { Services } from '../services.ts';
import { fitAmong, periodOf } from './overlap.ts';
import { readRateCode } from './read-code.ts';

export interface AddTierPriceInput extends DatedInput {
  /** A UUID made by the client. */
  readonly id: string;
  readonly tierCode: string;
  readonly code: string;
  readonly price: string;
  readonly reason: string;
}

/**
 * A tier's own price for a repair, in place of list, factor and discount. Between two of them the discount counts.
 * Refuses with `duplicate` a period that overlaps another of the tier for that code, naming both. The owner's to give.
 */
export function addTierPrice(
  services: Services,
  actor: Actor,
  input: AddTierPriceInput,
): Promise<Result<{ id: string }>> {
  return performAsStaff(services, actor, 'change_price_book', async (scope) => {
    const { tx } = scope;
    const { id, tierCode } = input;
    const read = everyResult({
      code: readRateCode(input.code),
      priceMinor: parseMoney(input.price, { currency: scope.business.currency, field: 'price' }),
      reason: readWords(input.reason, 'reason', 'why the tier has its own price', 200),
      inForce: readPeriod(input),
    });
    if (!read.ok) return read;
    const { inForce, ...rest } = read.value;
    if (rest.priceMinor === 0n) return refuse('invalid_money', 'Write a price above zero.', 'price');
    const tier = await findTier(tx, tierCode);
    if (tier === null) return refuse('not_found', 'There is no such tier.');
    if (!(await hasRate(tx, rest.code)))
      return refuse(
        'invalid_input',
        `The price book has no rate ${rest.code}. Choose one of its codes.`,
        'code',
      );
    await lockPriceBook(tx);
    const price = { id, tierCode, ...rest, validFrom: inForce.from, validTo: inForce.to };
    const known = await findTierPrice(tx, id);
    if (known !== null)
      return sameContent(known, price)
        ? ok({ id })
        : refuse('id_reused', 'This id stands for another price. Send a new one.', 'id');
    const periods = (await listTierPrices(tx, tierCode))
      .filter((each) => each.code === price.code)
      .map(periodOf);
    const counted = { what: `${tier.name}’s own price for ${price.code}`, another: 'a price' };
    const fits = fitAmong(counted, inForce, periods, 'allowed');
    if (!fits.ok) return fits;
    await insertTierPrice(tx, price);
    await record(
      scope,
      'tier_price_added',
      { kind: 'tier_price', id },
      { tier: tierCode, code: price.code, price_minor: price.priceMinor.toString() },
    );
    return ok({ id });
  });
}
