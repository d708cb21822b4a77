import { findTier, insertTier } from '@grainwright/db';
import { ok, parseMoney, type Result, refuse } from '@grainwright/domain';
import { everyResult } from '../every-result.ts';
import { type Actor, performAsStaff, record } from '../perform.ts';
import { readPercent, readWords } from '../read-input.ts';
import { sameContent } from '../same-content.ts';
import type { Services } from '../services.ts';
import { readCode } from './read-code.ts';

export interface AddTierInput {
  /** Small letters and `_`; it is the tier's id. */
  readonly code: string;
  readonly name: string;
  readonly discountPercent: string;
  readonly vehicleMinimum: string;
  /** Repairs of a visit from which the trip is waived; null: never. */
  readonly tripWaivedFrom: string | null;
}

/** Adds a class of customers with its discount off list. The owner's to do. */
export function addTier(
  services: Services,
  actor: Actor,
  input: AddTierInput,
): Promise<Result<{ code: string }>> {
  return performAsStaff(services, actor, 'change_price_book', async (scope) => {
    const { currency } = scope.business;
    const read = everyResult({
      code: readCode(input.code),
      name: readWords(input.name, 'name', 'the tier’s name', 60),
      discountPercent: readPercent(input.discountPercent, 'discount_percent'),
      vehicleMinimumMinor: parseMoney(input.vehicleMinimum, { currency, field: 'vehicle_minimum' }),
      tripWaivedFromMinor:
        input.tripWaivedFrom === null
          ? ok(null)
          : parseMoney(input.tripWaivedFrom, { currency, field: 'trip_waived_from' }),
    });
    if (!read.ok) return read;
    if (read.value.tripWaivedFromMinor === 0n)
      return refuse(
        'invalid_money',
        'Write an amount above zero, or leave it empty if the trip is never waived.',
        'trip_waived_from',
      );
    const { code, name } = read.value;
    if (!(await insertTier(scope.tx, read.value))) {
      const there = await findTier(scope.tx, code);
      return there !== null && sameContent(there, read.value)
        ? ok({ code })
        : refuse(
            'duplicate',
            `There is a tier “${code}” already, with other terms. Choose another code.`,
            'code',
          );
    }
    await record(
      scope,
      'tier_added',
      { kind: 'tenant', id: scope.actor.tenantId },
      { code, name, discount_percent: input.discountPercent },
    );
    return ok({ code });
  });
}
