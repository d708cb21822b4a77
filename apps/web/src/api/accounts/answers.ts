import { formatDecimal, formatMinor } from '@grainwright/domain';
import type { AccountList, AccountView } from '@grainwright/operations';
import type { z } from 'zod';
import { answerCertificateWarning } from '../certificate-warning.ts';
import { answerDelegation } from '../delegations/schemas.ts';
import { answerPurchaseOrder } from '../work-orders/consent-answers.ts';
import { answerStandingApproval } from './agreement-answers.ts';
import type { accountAnswer, accountListAnswer } from './schemas.ts';

export function answerList({ accounts, next }: AccountList): z.input<typeof accountListAnswer> {
  return {
    accounts: accounts.map((each) => ({
      id: each.id,
      short_name: each.shortName,
      name: each.name,
      kind: each.kind,
      tier_code: each.tierCode,
      tax_area_code: each.taxAreaCode,
      terms_days: each.termsDays,
      statement_kind: each.statementKind,
      ended_on: each.endedOn,
    })),
    next,
  };
}

export function answerAccount(view: AccountView): z.input<typeof accountAnswer> {
  const { account, currency } = view;
  return {
    id: account.id,
    short_name: account.shortName,
    name: account.name,
    kind: account.kind,
    billing_address: account.billingAddress,
    tier_code: account.tierCode,
    tax_area_code: view.taxAreaCode,
    terms_days: account.termsDays,
    statement_kind: account.statementKind,
    invoice_rule: account.invoiceRule,
    requires_ro: account.requiresRo,
    requires_po: account.requiresPo,
    own_number_kind: account.ownNumberKind,
    own_number_required: account.ownNumberRequired,
    acceptance_rule: account.acceptanceRule,
    photo_rule: account.photoRule,
    shows_prices_at_acceptance: account.showsPricesAtAcceptance,
    walk_in: account.walkIn,
    no_show_fee: account.noShowFeeMinor === null ? null : formatMinor(account.noShowFeeMinor, currency),
    applies_money_itself: account.appliesMoneyItself,
    statement_email: account.statementEmail,
    remind_after_hours: account.remindAfterHours,
    opened_on: account.openedOn,
    ended_on: account.endedOn,
    group_id: account.groupId,
    group_name: view.groupName,
    successor: view.successor,
    predecessors: [...view.predecessors],
    ...answerAgreed(view),
    sites: view.sites.map(({ id, name, address, miles }) => ({
      id,
      name,
      address,
      miles: formatDecimal(miles),
    })),
    contacts: view.contacts.map((each) => ({
      person_id: each.personId,
      name: each.name,
      email: each.email,
      phone: each.phone,
      role: each.role,
      limit: each.limitMinor === null ? null : formatMinor(each.limitMinor, currency),
      ended_on: each.endedOn,
      ask_position: each.askPosition,
    })),
    certificates: view.certificates.map(({ id, kind, number, validFrom, validTo, standing }) => ({
      id,
      kind,
      number,
      valid_from: validFrom,
      valid_to: validTo,
      standing,
    })),
    certificate_warning: answerCertificateWarning(view.certificateWarning),
    ...answerOwnPrices(view),
  };
}

/** What was agreed to beforehand, and who answers for whom. */
function answerAgreed(view: AccountView) {
  const { currency } = view;
  return {
    delegations: view.delegations.map((each) => answerDelegation(each, currency)),
    standing_approvals: view.standingApprovals.map((each) => answerStandingApproval(each, currency)),
    purchase_orders: view.purchaseOrders.map((each) => answerPurchaseOrder(each, currency)),
  };
}

/** What the account pays beside its tier. */
function answerOwnPrices(view: AccountView) {
  const { currency } = view;
  return {
    contracts: view.contracts.map(({ id, name, discountPercent, reason, validFrom, validTo }) => ({
      id,
      name,
      discount_percent: formatDecimal(discountPercent),
      reason,
      valid_from: validFrom,
      valid_to: validTo,
    })),
    prices: view.prices.map(({ id, code, priceMinor, reason, validFrom, validTo }) => ({
      id,
      code,
      price: formatMinor(priceMinor, currency),
      reason,
      valid_from: validFrom,
      valid_to: validTo,
    })),
  };
}
