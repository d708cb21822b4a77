import { formatDecimal, formatMinor, type StandingSums, type TotalChange } from '@grainwright/domain';
import type { DecisionView, PurchaseOrderView, WorkOrderView } from '@grainwright/operations';
import type { z } from 'zod';
import type { consent, decision, increase, purchaseOrder } from './consent-schemas.ts';

type Consent = { [Name in keyof typeof consent]: z.infer<(typeof consent)[Name]> };

export function answerConsent(view: WorkOrderView): Consent {
  const { currency, standing, increase } = view;
  const amount = (minor: bigint) => formatMinor(minor, currency);
  return {
    standing: standing && {
      text: standing.text,
      ...comparedOf(standing.sums, currency),
      exceeded: standing.exceeded.map((each) => ({
        limit: each.limit,
        limit_amount: amount(each.limitMinor),
        reached: amount(each.reachedMinor),
        over: amount(each.overMinor),
      })),
      answered_by_person: standing.answeredByPerson,
      covers: standing.covers,
    },
    increase: increase && {
      ...answerIncrease(increase, currency),
      approved_at: increase.approvedAt,
      approved_by: increase.approvedBy,
    },
    purchase_order: view.purchaseOrder && answerPurchaseOrder(view.purchaseOrder, currency),
    earlier_with_ro: view.earlierWithRo.map((each) => ({
      invoice_id: each.invoiceId,
      invoice_number: each.number,
      issued_on: each.issuedOn,
      work_order_id: each.workOrderId,
      work_order_number: each.workOrderNumber.toString(),
    })),
  };
}

export function answerIncrease(change: TotalChange, currency: string): z.infer<typeof increase> {
  return {
    approved_total: formatMinor(change.approvedMinor, currency),
    new_total: formatMinor(change.newMinor, currency),
    difference: formatMinor(change.differenceMinor, currency),
    percent: change.percent && formatDecimal(change.percent),
  };
}

export function answerPurchaseOrder(
  order: PurchaseOrderView,
  currency: string,
): z.infer<typeof purchaseOrder> {
  const { id, number, capMinor, invoicedMinor, leftMinor, validFrom, validTo, note, standing } = order;
  return {
    id,
    number,
    cap: capMinor === null ? null : formatMinor(capMinor, currency),
    invoiced: formatMinor(invoicedMinor, currency),
    left: leftMinor === null ? null : formatMinor(leftMinor, currency),
    valid_from: validFrom,
    valid_to: validTo,
    note,
    standing,
  };
}

export function answerDecision(view: DecisionView, currency: string): z.infer<typeof decision> {
  const amount = (minor: bigint) => formatMinor(minor, currency);
  const { rule } = view;
  return {
    id: view.id,
    version_id: view.versionId,
    decided_by: view.decidedBy,
    answered_for: view.answeredFor,
    decided_at: view.decidedAt,
    given: view.given,
    rule: rule && {
      standing_approval_id: rule.standingApprovalId,
      text: rule.text,
      ...comparedOf(rule.sums, currency),
    },
    repairs: amount(view.repairsMinor),
    minimum: amount(view.minimumMinor),
    after_hours: amount(view.afterHoursMinor),
    rush: amount(view.rushMinor),
    visit_minimum: amount(view.visitMinimumMinor),
    trip: amount(view.tripMinor),
    tax: amount(view.taxMinor),
    total: amount(view.totalMinor),
    lines: view.lines.map((line) => ({
      line_id: line.lineId,
      answer: line.answer,
      reason: line.reason,
      net: amount(line.netMinor),
      labor: amount(line.laborMinor),
      materials: amount(line.materialsMinor),
      trail: line.trail,
    })),
  };
}

function comparedOf({ vehicleMinor, visitMinor, monthMinor }: StandingSums, currency: string) {
  return {
    vehicle: formatMinor(vehicleMinor, currency),
    visit: formatMinor(visitMinor, currency),
    month: formatMinor(monthMinor, currency),
  };
}
