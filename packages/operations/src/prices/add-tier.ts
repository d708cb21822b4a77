import { findTier, insertTier, insertTierTerms } from '@grainwright/db';
import { fromTheStart, ok, type Result, refuse } from '@grainwright/domain';
import { everyResult } from '../every-result.ts';
import { type Actor, performAsStaff, record } from '../perform.ts';
import { readWords } from '../read-input.ts';
import { sameContent } from '../same-content.ts';
import type { Services } from '../services.ts';
import { readCode } from './read-code.ts';
import { readTierTerms, type TierTermsInput } from './read-tier-terms.ts';

export interface AddTierInput extends TierTermsInput {
  /** Small letters and `_`; it is the tier's id. */
  readonly code: string;
  readonly name: string;
}

/** Adds a class of customers with its terms, which hold from the start until they are changed. The owner's to do. */
export function addTier(
  services: Services,
  actor: Actor,
  input: AddTierInput,
): Promise<Result<{ code: string }>> {
  return performAsStaff(services, actor, 'change_price_book', async (scope) => {
    const { tx } = scope;
    const read = everyResult({
      code: readCode(input.code),
      name: readWords(input.name, 'name', 'the tier’s name', 60),
      terms: readTierTerms(input, scope.business.currency),
    });
    if (!read.ok) return read;
    const { code, name, terms } = read.value;
    if (!(await insertTier(tx, { code, name }))) {
      const there = await findTier(tx, code);
      const [first] = there?.terms ?? [];
      return there?.name === name && first !== undefined && sameContent(first, terms)
        ? ok({ code })
        : refuse(
            'duplicate',
            `There is a tier “${code}” already, with other terms. Choose another code.`,
            'code',
          );
    }
    const period = { validFrom: fromTheStart, validTo: null };
    await insertTierTerms(tx, { id: scope.newId(), tierCode: code, ...terms, ...period });
    await record(
      scope,
      'tier_added',
      { kind: 'tenant', id: scope.actor.tenantId },
      { code, name, discount_percent: input.discountPercent },
    );
    return ok({ code });
  });
}
