import {
  findAccount,
  findStandingApproval,
  insertStandingApproval,
  listStandingApprovalRows,
  lockStandingApprovals,
} from '@grainwright/db';
import {
  type AccountId,
  type JsonValue,
  ok,
  parseMoney,
  type Result,
  refuse,
  type StandingApprovalId,
  type StandingLimits,
} from '@grainwright/domain';
import { everyResult } from '../every-result.ts';
import { type Actor, performAsStaff, record } from '../perform.ts';
import { periodsOverlap, refuseOverlap } from '../prices/overlap.ts';
import { type DatedInput, readPeriod, readWords } from '../read-input.ts';
import { sameContent } from '../same-content.ts';
import type { Services } from '../services.ts';

export interface SetStandingApprovalInput extends DatedInput {
  readonly id: StandingApprovalId;
  readonly accountId: AccountId;
  /** Amounts as decimal text; null: no limit of that kind. At least one is given, and all that are given hold. */
  readonly perVehicle: string | null;
  readonly perVisit: string | null;
  readonly perMonth: string | null;
  /** Who of the account agreed to it, and how. */
  readonly text: string;
}

/**
 * Sets down what an account agrees to beforehand: from then on an estimate within all limits is approved when it is sent.
 * The figure compared is repairs with their minimum and after-hours, before trip and tax. What was sent before waits for
 * a person. Refuses with `duplicate` days that another one has.
 */
export function setStandingApproval(
  services: Services,
  actor: Actor,
  input: SetStandingApprovalInput,
): Promise<Result<{ id: StandingApprovalId }>> {
  return performAsStaff(services, actor, 'change_accounts', async (scope) => {
    const { tx } = scope;
    const { id, accountId } = input;
    const read = everyResult({
      limits: readLimits(input, scope.business.currency),
      valid: readPeriod(input),
      note: readWords(input.text, 'text', 'who of the account agreed to it, and how', 500),
    });
    if (!read.ok) return read;
    const { limits, valid, note } = read.value;
    if ((await findAccount(tx, accountId)) === null) return refuse('not_found', 'There is no such account.');
    await lockStandingApprovals(tx, accountId);
    const approval = { id, accountId, ...limits, validFrom: valid.from, validTo: valid.to, note };
    const known = await findStandingApproval(tx, id);
    if (known !== null)
      return sameContent(known, approval)
        ? ok({ id })
        : refuse(
            'id_reused',
            'This id stands for another standing approval, or it was ended since. Send a new id.',
            'id',
          );
    const clash = (await listStandingApprovalRows(tx, accountId))
      .filter(({ validFrom, validTo }) => validTo === null || validFrom <= validTo)
      .map(({ validFrom, validTo }) => ({ from: validFrom, to: validTo }))
      .find((there) => periodsOverlap(there, valid));
    if (clash !== undefined)
      return refuseOverlap(
        { what: 'A standing approval of this account', another: 'a standing approval' },
        valid,
        clash,
      );
    await insertStandingApproval(tx, { ...approval, setBy: scope.member.personId, setAt: scope.now });
    await record(
      scope,
      'standing_approval_set',
      { kind: 'account', id: accountId },
      { standing_approval: id, ...limitDetail(limits), valid_from: valid.from, valid_to: valid.to, note },
    );
    return ok({ id });
  });
}

function readLimits(
  { perVehicle, perVisit, perMonth }: SetStandingApprovalInput,
  currency: string,
): Result<StandingLimits> {
  const limits = everyResult({
    perVehicleMinor: readLimit(perVehicle, 'per_vehicle', currency),
    perVisitMinor: readLimit(perVisit, 'per_visit', currency),
    perMonthMinor: readLimit(perMonth, 'per_month', currency),
  });
  if (!limits.ok) return limits;
  const given = Object.values(limits.value).some((limit) => limit !== null);
  return given
    ? limits
    : refuse(
        'invalid_input',
        'Write at least one limit: for a vehicle, for a visit or for a month.',
        'per_vehicle',
      );
}

function readLimit(text: string | null, field: string, currency: string): Result<bigint | null> {
  if (text === null || text.trim() === '') return ok(null);
  const limit = parseMoney(text, { currency, field });
  return limit.ok && limit.value === 0n
    ? refuse('invalid_money', 'Write a limit above zero, or leave it empty for none.', field)
    : limit;
}

function limitDetail(limits: StandingLimits): { readonly [name: string]: JsonValue } {
  return {
    per_vehicle_minor: limits.perVehicleMinor?.toString() ?? null,
    per_visit_minor: limits.perVisitMinor?.toString() ?? null,
    per_month_minor: limits.perMonthMinor?.toString() ?? null,
  };
}
