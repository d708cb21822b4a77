import { findTier, insertTierTerms, lockPriceBook } from '@grainwright/db';
import { ok, parseDay, type Result, refuse } from '@grainwright/domain';
import { everyResult } from '../every-result.ts';
import { type Actor, performAsStaff, record } from '../perform.ts';
import { sameContent } from '../same-content.ts';
import type { Services } from '../services.ts';
import { checkStillToCome, endBefore, fitNext } from './next-period.ts';
import type { Counted } from './overlap.ts';
import { readTierTerms, type TierTermsInput } from './read-tier-terms.ts';

export interface ChangeTierInput extends TierTermsInput {
  /** A UUID made by the client: of the new terms. */
  readonly id: string;
  readonly code: string;
  /** Their first day, after today. */
  readonly validFrom: string;
}

/** Gives a tier other terms from a coming day on; refuses as `changeRate` does. The owner's to do. */
export function changeTier(
  services: Services,
  actor: Actor,
  input: ChangeTierInput,
): Promise<Result<{ id: string }>> {
  return performAsStaff(services, actor, 'change_price_book', async (scope) => {
    const { tx, business, today } = scope;
    const { id, code } = input;
    const read = everyResult({
      terms: readTierTerms(input, business.currency),
      validFrom: parseDay(input.validFrom.trim(), 'valid_from'),
    });
    if (!read.ok) return read;
    const { terms, validFrom } = read.value;
    await lockPriceBook(tx);
    const tier = await findTier(tx, code);
    if (tier === null) return refuse('not_found', 'There is no such tier.');
    const known = tier.terms.find((each) => each.id === id);
    if (known !== undefined)
      return sameContent(known, { ...terms, validFrom })
        ? ok({ id })
        : refuse('id_reused', 'This id stands for other terms. Send a new one.', 'id');
    const toCome = checkStillToCome(validFrom, today);
    const fits = toCome.ok ? fitNext(termsOf(tier.name), validFrom, tier.terms) : toCome;
    if (!fits.ok) return fits;
    await endBefore(tx, 'tier_terms', fits.value, validFrom);
    await insertTierTerms(tx, { id, tierCode: code, ...terms, validFrom, validTo: null });
    await record(
      scope,
      'tier_changed',
      { kind: 'tier_terms', id },
      { code, valid_from: validFrom, discount_percent: input.discountPercent },
    );
    return ok({ id });
  });
}

function termsOf(name: string): Counted {
  return { what: `A set of terms of ${name}`, another: 'a set of terms' };
}
