import { formatDecimal, formatMinor } from '@grainwright/domain';
import type {
  AcceptanceNeed,
  HandedInView,
  NeedsView,
  OwnAccountView,
  SavingsView,
} from '@grainwright/operations';
import type { z } from 'zod';
import { answerStandingApproval } from '../accounts/agreement-answers.ts';
import { answerCertificateWarning } from '../certificate-warning.ts';
import { answerEstimateToAnswer } from '../decisions/estimate-to-answer.ts';
import { answerDelegation } from '../delegations/schemas.ts';
import { answerDisputed } from '../disputes/answers.ts';
import { answerPurchaseOrder } from '../work-orders/consent-answers.ts';
import type { handedInAnswer, needsAnswer, ownAccountAnswer, savingsAnswer } from './schemas.ts';

export function answerHandedIn(view: HandedInView): z.input<typeof handedInAnswer> {
  const { id, kind, number, check } = view;
  return {
    id,
    account_id: view.accountId,
    account_name: view.accountName,
    kind,
    number,
    valid_from: view.validFrom,
    valid_to: view.validTo,
    handed_in_by: view.handedInBy,
    handed_in_at: view.handedInAt,
    standing: view.standing,
    checked_by: check?.by ?? null,
    checked_at: check?.at ?? null,
    reason: check?.reason ?? '',
  };
}

export function answerNeeds(view: NeedsView): z.input<typeof needsAnswer> {
  const { currency, certificate } = view;
  return {
    currency,
    nothing: view.nothing,
    estimates: view.estimates.map(answerEstimateToAnswer),
    estimate_count: view.estimateCount,
    numbers: view.numbers.map((each) => ({ ...finishedVehicle(each), missing: [...each.missing] })),
    purchase_orders: view.purchaseOrders.map((each) => ({
      id: each.id,
      number: each.number,
      cap: formatMinor(each.capMinor, currency),
      left: formatMinor(each.leftMinor, currency),
      approved: formatMinor(each.approvedMinor, currency),
      short: formatMinor(each.shortMinor, currency),
      work_orders: each.workOrders,
    })),
    certificate: certificate && {
      warning: answerCertificateWarning(certificate.warning),
      taxed_from: certificate.taxedFrom,
      not_taken: certificate.notTaken,
    },
    acceptances: view.acceptances.map(finishedVehicle),
    disputes: view.disputes.map(answerDisputed),
    past_due: view.pastDue.map((each) => ({
      invoice_id: each.invoiceId,
      number: each.number,
      due_on: each.dueOn,
      days: each.days,
      open: formatMinor(each.openMinor, currency),
    })),
  };
}

function finishedVehicle(need: AcceptanceNeed) {
  return {
    work_order_id: need.workOrderId,
    work_order_number: need.number.toString(),
    vehicle: need.vehicle,
    own_number: need.numbers.own,
    ro_number: need.numbers.ro,
    po_number: need.numbers.po,
    finished_on: need.finishedOn,
    days: need.days,
  };
}

export function answerOwnAccount(view: OwnAccountView): z.input<typeof ownAccountAnswer> {
  const { account, currency } = view;
  const amount = (minor: bigint | null) => (minor === null ? null : formatMinor(minor, currency));
  return {
    id: account.id,
    name: account.name,
    billing_address: account.billingAddress,
    terms_days: account.termsDays,
    statement_kind: account.statementKind,
    statement_email: account.statementEmail,
    invoice_rule: account.invoiceRule,
    requires_ro: account.requiresRo,
    requires_po: account.requiresPo,
    own_number_kind: account.ownNumberKind,
    own_number_required: account.ownNumberRequired,
    acceptance_rule: account.acceptanceRule,
    no_show_fee: amount(account.noShowFeeMinor),
    remind_after_hours: account.remindAfterHours,
    opened_on: account.openedOn,
    ended_on: account.endedOn,
    people: view.people.map((each) => ({
      person_id: each.personId,
      name: each.name,
      role: each.role,
      limit: amount(each.limitMinor),
      ended_on: each.endedOn,
    })),
    sites: [...view.sites],
    standing_approvals: view.standingApprovals.map((each) => answerStandingApproval(each, currency)),
    purchase_orders: view.purchaseOrders.map((each) => answerPurchaseOrder(each, currency)),
    delegations: view.delegations.map((each) => answerDelegation(each, currency)),
    certificates: view.certificates.map(({ id, kind, number, validFrom, validTo, standing }) => ({
      id,
      kind,
      number,
      valid_from: validFrom,
      valid_to: validTo,
      standing,
    })),
    certificate_warning: answerCertificateWarning(view.certificateWarning),
    handed_in: view.handedIn.map(answerHandedIn),
  };
}

export function answerSavings(view: SavingsView): z.input<typeof savingsAnswer> {
  const { currency, from, to, vehicles, saved } = view;
  return {
    currency,
    from,
    to,
    vehicles,
    quoted: formatMinor(view.quotedMinor, currency),
    repairs: formatMinor(view.repairsMinor, currency),
    saved: saved === null ? null : formatMinor(saved.savedMinor, currency),
    percent: saved === null ? null : formatDecimal(saved.percent),
  };
}
