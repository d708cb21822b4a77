import {
  findStandingApprovalOn,
  lockStandingApprovals,
  type StandingApprovalRow,
  type StoredEstimate,
  sumApprovedByRule,
  type WorkOrderRow,
  wasAnsweredByPerson,
} from '@grainwright/db';
import { dayWords } from '@grainwright/documents';
import {
  type DecisionId,
  exceededLimits,
  limitAmount,
  ok,
  type Result,
  standingWords,
  toId,
} from '@grainwright/domain';
import type { Scope } from '../perform.ts';
import { approveWithoutCharge } from './approve-without-charge.ts';
import { answerable, priceAnswers } from './estimate-version.ts';
import type { StandingView } from './work-order-view.ts';
import { writeDecision } from './write-decision.ts';

type AskedWorkOrder = Pick<WorkOrderRow, 'id' | 'accountId' | 'visitId'>;

/**
 * Answers a version that was just sent, in the account's name, where the account's standing approval of the day covers
 * all of it: every limit holds and nobody of the account has answered this work order themselves. True when it was
 * answered; false leaves it waiting for a person. Never declines anything. A rework without charge needs nobody's yes.
 */
export async function answerByRule(
  scope: Scope,
  workOrder: WorkOrderRow,
  estimate: StoredEstimate,
): Promise<Result<boolean>> {
  if (workOrder.reworkOfId !== null) return approveWithoutCharge(scope, workOrder, estimate);
  await lockStandingApprovals(scope.tx, workOrder.accountId);
  const found = await standingOf(scope, workOrder, comparedOf(estimate));
  if (found === null || !found.view.covers) return ok(false);
  const answers = estimate.lines.map(({ lineId }) => ({ lineId, answer: 'approved' as const, reason: '' }));
  const price = priceAnswers(await answerable(scope, workOrder, estimate), answers);
  if (!price.ok) return price;
  const { approval, view } = found;
  const by = {
    kind: 'rule' as const,
    standingApprovalId: approval.id,
    text: view.text,
    day: scope.today,
    sums: view.sums,
  };
  const id = toId<DecisionId>(scope.newId());
  const written = await writeDecision(scope, { id, workOrder, estimate, answers, price: price.value, by });
  return written.ok ? ok(true) : written;
}

/** Where an amount stands against the account's standing approval of today; null where the account has none. */
export async function readStanding(
  scope: Scope,
  workOrder: AskedWorkOrder,
  comparedMinor: bigint,
): Promise<StandingView | null> {
  const found = await standingOf(scope, workOrder, comparedMinor);
  return found?.view ?? null;
}

/** What a limit is compared with, of a version as a whole. */
export function comparedOf({ version }: Pick<StoredEstimate, 'version'>): bigint {
  return limitAmount(version.repairsMinor, version.afterHoursMinor, version.rushMinor);
}

async function standingOf(
  scope: Scope,
  { id, accountId, visitId }: AskedWorkOrder,
  comparedMinor: bigint,
): Promise<{ readonly approval: StandingApprovalRow; readonly view: StandingView } | null> {
  const { tx, today, business } = scope;
  const approval = await findStandingApprovalOn(tx, accountId, today);
  if (approval === null) return null;
  const before = await sumApprovedByRule(tx, { accountId, visitId, day: today });
  const sums = {
    vehicleMinor: comparedMinor,
    visitMinor: before.visitMinor + comparedMinor,
    monthMinor: before.monthMinor + comparedMinor,
  };
  const exceeded = exceededLimits(approval, sums);
  const answeredByPerson = await wasAnsweredByPerson(tx, id);
  const covers = exceeded.length === 0 && !answeredByPerson;
  const text = ruleText(approval, business.currency);
  return { approval, view: { text, sums, exceeded, answeredByPerson, covers } };
}

function ruleText(approval: StandingApprovalRow, currency: string): string {
  const { validFrom, validTo, note } = approval;
  const days =
    validTo === null
      ? `from ${dayWords(validFrom)} on`
      : `from ${dayWords(validFrom)} to ${dayWords(validTo)}`;
  return `${standingWords(approval, currency)}, ${days} (${note})`;
}
