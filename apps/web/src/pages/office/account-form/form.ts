import {
  type AccountGroupId,
  type AccountId,
  formatMinor,
  isUuid,
  ok,
  type Problem,
  type Result,
  refuse,
  toId,
} from '@grainwright/domain';
import type { AccountTermsInput, AccountView } from '@grainwright/operations';
import type { FormValues } from '../../../plugins/forms.ts';
import {
  acceptanceWords,
  chosen,
  invoiceWords,
  kindWords,
  ownNumberWords,
  photoWords,
  statementWords,
} from '../account-words.ts';

const textFields = [
  'short_name',
  'name',
  'kind',
  'billing_address',
  'tier_code',
  'tax_area_code',
  'terms_days',
  'statement_kind',
  'invoice_rule',
  'own_number_kind',
  'acceptance_rule',
  'photo_rule',
  'no_show_fee',
  'statement_email',
  'remind_after_hours',
  'group_id',
  'new_group',
  'ended_on',
  'successor_id',
] as const;
const ticks = [
  'requires_ro',
  'requires_po',
  'own_number_required',
  'shows_prices_at_acceptance',
  'walk_in',
  'applies_money_itself',
] as const;
export const accountFields: readonly string[] = [...textFields, ...ticks];

/** What stands in the form, as text; a tick is `yes` or nothing. */
export type AccountFormValues = Readonly<
  Record<(typeof textFields)[number] | (typeof ticks)[number], string>
>;

export const emptyAccountForm: AccountFormValues = {
  short_name: '',
  name: '',
  kind: '',
  billing_address: '',
  tier_code: '',
  tax_area_code: '',
  terms_days: '15',
  statement_kind: 'open_item',
  invoice_rule: 'per_visit',
  own_number_kind: '',
  acceptance_rule: 'account_representative',
  photo_rule: 'trade',
  no_show_fee: '',
  statement_email: '',
  remind_after_hours: '',
  group_id: '',
  new_group: '',
  ended_on: '',
  successor_id: '',
  requires_ro: '',
  requires_po: '',
  own_number_required: '',
  shows_prices_at_acceptance: '',
  walk_in: '',
  applies_money_itself: '',
};

export function typedAccountForm(form: FormValues): AccountFormValues {
  const typed = accountFields.map((name) => [name, form.text(name).replaceAll('\r\n', '\n')]);
  return { ...emptyAccountForm, ...Object.fromEntries(typed) };
}

export function storedAccountForm({ account, taxAreaCode, currency }: AccountView): AccountFormValues {
  const tick = (checked: boolean) => (checked ? 'yes' : '');
  return {
    short_name: account.shortName,
    name: account.name,
    kind: account.kind,
    billing_address: account.billingAddress,
    tier_code: account.tierCode,
    tax_area_code: taxAreaCode,
    terms_days: String(account.termsDays),
    statement_kind: account.statementKind,
    invoice_rule: account.invoiceRule,
    own_number_kind: account.ownNumberKind ?? '',
    acceptance_rule: account.acceptanceRule,
    photo_rule: account.photoRule,
    no_show_fee: account.noShowFeeMinor === null ? '' : formatMinor(account.noShowFeeMinor, currency),
    statement_email: account.statementEmail,
    remind_after_hours: account.remindAfterHours === null ? '' : String(account.remindAfterHours),
    group_id: account.groupId ?? '',
    new_group: '',
    ended_on: account.endedOn ?? '',
    successor_id: account.successorId ?? '',
    requires_ro: tick(account.requiresRo),
    requires_po: tick(account.requiresPo),
    own_number_required: tick(account.ownNumberRequired),
    shows_prices_at_acceptance: tick(account.showsPricesAtAcceptance),
    walk_in: tick(account.walkIn),
    applies_money_itself: tick(account.appliesMoneyItself),
  };
}

/** The form as the operation takes it; what was not chosen is refused beside its field. */
export function accountTermsOf(values: AccountFormValues): Result<AccountTermsInput> {
  const kind = chosen(kindWords, values.kind);
  if (kind === null) return notChosen('Choose what kind of customer it is.', 'kind');
  const statementKind = chosen(statementWords, values.statement_kind);
  if (statementKind === null) return notChosen('Choose a kind of statement.', 'statement_kind');
  const invoiceRule = chosen(invoiceWords, values.invoice_rule);
  if (invoiceRule === null) return notChosen('Choose when they are invoiced.', 'invoice_rule');
  const acceptanceRule = chosen(acceptanceWords, values.acceptance_rule);
  if (acceptanceRule === null) return notChosen('Choose who has to sign.', 'acceptance_rule');
  const photoRule = chosen(photoWords, values.photo_rule);
  if (photoRule === null) return notChosen('Choose which photos are needed.', 'photo_rule');
  return ok({
    shortName: values.short_name,
    name: values.name,
    kind,
    billingAddress: values.billing_address,
    tierCode: values.tier_code,
    taxAreaCode: values.tax_area_code,
    termsDays: /^\d{1,3}$/.test(values.terms_days) ? Number(values.terms_days) : Number.NaN,
    statementKind,
    invoiceRule,
    requiresRo: values.requires_ro !== '',
    requiresPo: values.requires_po !== '',
    ownNumberKind: chosen(ownNumberWords, values.own_number_kind),
    ownNumberRequired: values.own_number_required !== '',
    acceptanceRule,
    photoRule,
    showsPricesAtAcceptance: values.shows_prices_at_acceptance !== '',
    walkIn: values.walk_in !== '',
    noShowFee: values.no_show_fee === '' ? null : values.no_show_fee,
    appliesMoneyItself: values.applies_money_itself !== '',
    statementEmail: values.statement_email,
    remindAfterHours: hoursIn(values.remind_after_hours),
    groupId: idIn(values.group_id),
  });
}

/** Empty: no reminder; what is no whole number is refused beside its field. */
export function hoursIn(text: string): number | null {
  if (text === '') return null;
  return /^\d{1,3}$/.test(text) ? Number(text) : Number.NaN;
}

/** Of an account that is changed: its last day and who follows it. */
export function accountEndOf(values: AccountFormValues) {
  return {
    endedOn: values.ended_on === '' ? null : values.ended_on,
    successorId: idIn<AccountId>(values.successor_id),
  };
}

function idIn<T extends AccountId | AccountGroupId>(text: string): T | null {
  return isUuid(text) ? toId<T>(text) : null;
}

function notChosen(words: string, field: string): { readonly ok: false; readonly problem: Problem } {
  return refuse('invalid_input', words, field);
}
