import {
  findCommissionRate,
  findStaffRow,
  insertCommissionRate,
  listCommissionRates,
  lockStaffMember,
  type NamedCommissionRate,
  setCommissionRateEnd,
} from '@grainwright/db';
import { type CommissionRateId, ok, type PersonId, parseDay, type Result, refuse } from '@grainwright/domain';
import { everyResult } from '../every-result.ts';
import { type Actor, performAsStaff, record } from '../perform.ts';
import { periodsOverlap, refuseOverlap } from '../prices/overlap.ts';
import { type DatedInput, readPercent, readPeriod } from '../read-input.ts';
import { sameContent } from '../same-content.ts';
import type { Services } from '../services.ts';

export interface SetCommissionRateInput extends DatedInput {
  /** Made by the client. */
  readonly id: CommissionRateId;
  readonly personId: PersonId;
  /** Of the labor of repairs. */
  readonly percent: string;
}

/**
 * What a technician gets of the labor of repairs, from one day on. It counts by the day of work, so what was earned
 * before stays. The owner's to set; refuses with `duplicate` days that another rate of theirs holds.
 */
export function setCommissionRate(
  services: Services,
  actor: Actor,
  input: SetCommissionRateInput,
): Promise<Result<{ id: CommissionRateId }>> {
  return performAsStaff(services, actor, 'change_settings', async (scope) => {
    const { tx, now } = scope;
    const { id, personId } = input;
    const read = everyResult({ percent: readPercent(input.percent, 'percent'), inForce: readPeriod(input) });
    if (!read.ok) return read;
    const { percent, inForce } = read.value;
    const member = await findStaffRow(tx, personId);
    if (member === null) return refuse('not_found', 'There is no such person on the staff.', 'person_id');
    await lockStaffMember(tx, personId);
    const rate = { id, personId, percent, validFrom: inForce.from, validTo: inForce.to };
    const known = await findCommissionRate(tx, id);
    if (known !== null)
      return sameContent(known, rate)
        ? ok({ id })
        : refuse('id_reused', 'This id stands for another commission. Send a new one.', 'id');
    const clash = (await listCommissionRates(tx))
      .filter((each) => each.personId === personId)
      .map((each) => ({ from: each.validFrom, to: each.validTo }))
      .find((there) => periodsOverlap(there, inForce));
    if (clash !== undefined)
      return refuseOverlap({ what: 'Their commission', another: 'a commission' }, inForce, clash);
    await insertCommissionRate(tx, { ...rate, setBy: scope.actor.personId, setAt: now });
    await record(
      scope,
      'commission_set',
      { kind: 'person', id: personId },
      { percent: input.percent.trim(), from: inForce.from },
    );
    return ok({ id });
  });
}

export interface EndCommissionRateInput {
  readonly id: CommissionRateId;
  /** The last day of work that it counts for. */
  readonly validTo: string;
}

/** Gives a commission a last day, so that another can follow it. It may be set once. */
export function endCommissionRate(
  services: Services,
  actor: Actor,
  input: EndCommissionRateInput,
): Promise<Result<{ id: CommissionRateId }>> {
  return performAsStaff(services, actor, 'change_settings', async (scope) => {
    const { tx } = scope;
    const validTo = parseDay(input.validTo.trim(), 'valid_to');
    if (!validTo.ok) return validTo;
    const found = await findCommissionRate(tx, input.id);
    if (found === null) return refuse('not_found', 'There is no such commission.');
    await lockStaffMember(tx, found.personId);
    const rate = (await findCommissionRate(tx, input.id)) ?? found;
    if (rate.validTo === validTo.value) return ok({ id: rate.id });
    if (rate.validTo !== null)
      return refuse(
        'wrong_state',
        `It ends on ${rate.validTo} already. Set another one for later days.`,
        'valid_to',
      );
    if (validTo.value < rate.validFrom)
      return refuse(
        'dates_out_of_order',
        `It starts on ${rate.validFrom}. Write that day or a later one.`,
        'valid_to',
      );
    await setCommissionRateEnd(tx, rate.id, validTo.value);
    await record(
      scope,
      'commission_ended',
      { kind: 'person', id: rate.personId },
      { valid_to: validTo.value },
    );
    return ok({ id: rate.id });
  });
}

/** Every technician's commissions, by name and day. */
export function readCommissionRates(
  services: Services,
  actor: Actor,
): Promise<Result<readonly NamedCommissionRate[]>> {
  return performAsStaff(services, actor, 'see_ledger', async ({ tx }) => ok(await listCommissionRates(tx)));
}
