import type { AccountAsSeen, AccountTermsInput, ChangeAccountInput } from '@grainwright/operations';
import type { z } from 'zod';
import type { addAccountBody, changeAccountBody } from './schemas.ts';

export function termsOf(body: Omit<z.output<typeof addAccountBody>, 'id' | 'opened_on'>): AccountTermsInput {
  return {
    shortName: body.short_name,
    name: body.name,
    kind: body.kind,
    billingAddress: body.billing_address,
    tierCode: body.tier_code,
    taxAreaCode: body.tax_area_code,
    termsDays: body.terms_days,
    statementKind: body.statement_kind,
    invoiceRule: body.invoice_rule,
    requiresRo: body.requires_ro,
    requiresPo: body.requires_po,
    ownNumberKind: body.own_number_kind,
    ownNumberRequired: body.own_number_required,
    acceptanceRule: body.acceptance_rule,
    photoRule: body.photo_rule,
    showsPricesAtAcceptance: body.shows_prices_at_acceptance,
    walkIn: body.walk_in,
    noShowFee: body.no_show_fee,
    appliesMoneyItself: body.applies_money_itself,
    statementEmail: body.statement_email,
    remindAfterHours: body.remind_after_hours,
    groupId: body.group_id,
  };
}

export function changesOf({
  seen,
  ...body
}: z.output<typeof changeAccountBody>): Omit<ChangeAccountInput, 'id'> {
  return { ...someTermsOf(body), seen: seen && someTermsOf(seen) };
}

function someTermsOf(body: Omit<z.output<typeof changeAccountBody>, 'seen'>): AccountAsSeen {
  return {
    shortName: body.short_name,
    name: body.name,
    kind: body.kind,
    billingAddress: body.billing_address,
    tierCode: body.tier_code,
    taxAreaCode: body.tax_area_code,
    termsDays: body.terms_days,
    statementKind: body.statement_kind,
    invoiceRule: body.invoice_rule,
    requiresRo: body.requires_ro,
    requiresPo: body.requires_po,
    ownNumberKind: body.own_number_kind,
    ownNumberRequired: body.own_number_required,
    acceptanceRule: body.acceptance_rule,
    photoRule: body.photo_rule,
    showsPricesAtAcceptance: body.shows_prices_at_acceptance,
    walkIn: body.walk_in,
    noShowFee: body.no_show_fee,
    appliesMoneyItself: body.applies_money_itself,
    statementEmail: body.statement_email,
    remindAfterHours: body.remind_after_hours,
    groupId: body.group_id,
    endedOn: body.ended_on,
    successorId: body.successor_id,
  };
}
