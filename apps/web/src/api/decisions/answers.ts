import { formatDecimal, formatMinor } from '@grainwright/domain';
import type { Decided, DecisionPreview } from '@grainwright/operations';
import type { z } from 'zod';
import { answerQuoted } from '../quotes/answers.ts';
import { answerDecision, answerIncrease } from '../work-orders/consent-answers.ts';
import type { decisionAnswer, previewAnswer } from './schemas.ts';

export function previewJson(preview: DecisionPreview): z.infer<typeof previewAnswer> {
  const amount = (minor: bigint) => formatMinor(minor, preview.currency);
  return {
    version_id: preview.versionId,
    ...answerQuoted(preview.quoted, preview.currency),
    version: preview.version,
    digest: preview.digest,
    currency: preview.currency,
    lines: preview.lines.map((line) => ({
      line_id: line.lineId,
      description: line.description,
      answer: line.answer,
      reason: line.reason,
      offered: amount(line.offeredMinor),
      net: line.netMinor === null ? null : amount(line.netMinor),
      further_percent: formatDecimal(line.furtherPercent),
      trail: line.trail,
    })),
    repairs: amount(preview.repairsMinor),
    minimum: amount(preview.minimumMinor),
    after_hours: amount(preview.afterHoursMinor),
    rush: amount(preview.rushMinor),
    visit_minimum: amount(preview.visitMinimumMinor),
    trip: amount(preview.tripMinor),
    tax: amount(preview.taxMinor),
    total: amount(preview.totalMinor),
    offered_total: amount(preview.offeredTotalMinor),
    compared_with_limit: amount(preview.comparedMinor),
    limit: preview.limitMinor === null ? null : amount(preview.limitMinor),
    answers_for: preview.answersFor,
    within_limit: preview.withinLimit,
    pass_to: preview.passTo && { id: preview.passTo.personId, name: preview.passTo.name },
    expired: preview.expired,
    increase: preview.increase && answerIncrease(preview.increase, preview.currency),
  };
}

export function decisionJson({
  workOrderId,
  state,
  currency,
  decision,
}: Decided): z.infer<typeof decisionAnswer> {
  return { work_order_id: workOrderId, state, ...answerDecision(decision, currency) };
}
