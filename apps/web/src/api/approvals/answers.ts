import { formatMinor } from '@grainwright/domain';
import type { AnsweredOne, AskedVisit, AskingView, PassedOnView } from '@grainwright/operations';
import type { z } from 'zod';
import { ProblemError } from '../../plugins/problem-error.ts';
import { answerDecision } from '../work-orders/consent-answers.ts';
import type { approvalsAnswer, asksAnswer, linkedEstimatesAnswer, passedOnAnswer } from './schemas.ts';

export function answerAsking({ asks, passedOn, nobody }: AskingView): z.infer<typeof asksAnswer> {
  return {
    asks: asks.map((ask) => ({
      id: ask.id,
      version_id: ask.versionId,
      person_id: ask.personId,
      person_name: ask.personName,
      why: ask.why,
      asked_at: ask.askedAt,
    })),
    passed_on: passedOn.map(answerPassedOn),
    nobody,
  };
}

export function answerPassedOn(passed: PassedOnView): z.infer<typeof passedOnAnswer> {
  const amount = (minor: bigint) => formatMinor(minor, passed.currency);
  return {
    id: passed.id,
    version_id: passed.versionId,
    passed_by: passed.passedBy,
    passed_to: passed.passedTo,
    passed_at: passed.passedAt,
    compared_with_limit: amount(passed.comparedMinor),
    limit: amount(passed.limitMinor),
    total: amount(passed.totalMinor),
    answers: passed.answers.map(({ lineId, answer, reason }) => ({ line_id: lineId, answer, reason })),
  };
}

/** Throws the first problem where not one of them was answered: nothing was done then. */
export function answerSeveral(answered: readonly AnsweredOne[]): z.infer<typeof approvalsAnswer> {
  const [first] = answered;
  if (first?.problem && answered.every(({ decided }) => decided === null))
    throw new ProblemError(first.problem);
  return {
    results: answered.map(({ workOrderId, decided, problem }) => ({
      work_order_id: workOrderId,
      decision: decided && answerDecision(decided.decision, decided.currency),
      problem: problem && { code: problem.code, detail: problem.detail },
    })),
  };
}

export function answerLinked(visit: AskedVisit): z.infer<typeof linkedEstimatesAnswer> {
  return {
    person: visit.person.name,
    account: visit.accountName,
    business: visit.business.name,
    estimates: visit.workOrders.map((view) => {
      const { estimate, currency } = view;
      const amount = (minor: bigint) => formatMinor(minor, currency);
      return {
        work_order_id: view.id,
        number: view.number.toString(),
        vehicle: view.vehicle.description,
        state: view.state,
        version_id: estimate?.versionId ?? null,
        digest: estimate?.digest ?? null,
        expires_on: estimate?.expiresOn ?? null,
        currency,
        total: estimate && amount(estimate.price.invoice.totals.withTaxMinor),
        lines: (estimate?.lines ?? []).map((line) => ({
          line_id: line.lineId,
          words: view.lines.find(({ id }) => id === line.lineId)?.words ?? line.repair,
          offered: amount(line.netMinor),
        })),
        photo_ids: view.photos.map(({ id }) => id),
        missing_numbers: [...view.missingNumbers],
      };
    }),
  };
}
