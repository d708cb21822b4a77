import { insertCareFactor, insertCarePercent, listCareFactors } from '@grainwright/db';
import { fromTheStart, ok, type Result, refuse } from '@grainwright/domain';
import { everyResult } from '../every-result.ts';
import { type Actor, performAsStaff, record } from '../perform.ts';
import { readPercent, readWords } from '../read-input.ts';
import { sameContent } from '../same-content.ts';
import type { Services } from '../services.ts';
import { readCode } from './read-code.ts';

export interface AddCareFactorInput {
  /** Small letters and `_`; it is the factor's id. */
  readonly code: string;
  readonly name: string;
  /** 110 means × 1.10; from 100 to 300. */
  readonly percent: string;
}

/**
 * Adds what makes a repair dearer: a new car, perforated leather. It counts from the start until it is changed. The
 * owner's to do.
 */
export function addCareFactor(
  services: Services,
  actor: Actor,
  input: AddCareFactorInput,
): Promise<Result<{ code: string }>> {
  return performAsStaff(services, actor, 'change_price_book', async (scope) => {
    const read = everyResult({
      code: readCode(input.code),
      name: readWords(input.name, 'name', 'the factor’s name', 60),
      percent: readPercent(input.percent, 'percent', '100', '300'),
    });
    if (!read.ok) return read;
    const { tx } = scope;
    const { code, name, percent } = read.value;
    if (!(await insertCareFactor(tx, { code, name }))) {
      const there = (await listCareFactors(tx)).find((each) => each.code === code);
      const [first] = there?.percents ?? [];
      return there?.name === name && first !== undefined && sameContent(first, { percent })
        ? ok({ code })
        : refuse('duplicate', `There is a factor “${code}” already. Choose another code.`, 'code');
    }
    const period = { validFrom: fromTheStart, validTo: null };
    await insertCarePercent(tx, { id: scope.newId(), factorCode: code, percent, ...period });
    await record(
      scope,
      'care_factor_added',
      { kind: 'tenant', id: scope.actor.tenantId },
      { code, name, percent: input.percent },
    );
    return ok({ code });
  });
}
