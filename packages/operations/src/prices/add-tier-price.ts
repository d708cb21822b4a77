import { findTier, findTierPrice, insertTierPrice, listTierPrices, lockPriceBook } from '@grainwright/db';
import { ok, type Result, refuse } from '@grainwright/domain';
import { type Actor, performAsStaff, record } from '../perform.ts';
import { sameContent } from '../same-content.ts';
import type { Services } from '../services.ts';
import { fitAmong, periodOf } from './overlap.ts';
import { type OwnPriceInput, readOwnPrice } from './read-own-price.ts';

export interface AddTierPriceInput extends OwnPriceInput {
  /** A UUID made by the client. */
  readonly id: string;
  readonly tierCode: string;
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
    const tier = await findTier(tx, tierCode);
    if (tier === null) return refuse('not_found', 'There is no such tier.');
    const read = await readOwnPrice(scope, input, 'the tier');
    if (!read.ok) return read;
    const { inForce, ...rest } = read.value;
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
