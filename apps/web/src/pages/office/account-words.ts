import type { ContactRole } from '@grainwright/domain';
import type { AccountKind, AccountTermsInput, AccountView } from '@grainwright/operations';
import type { Choice } from '../../look/forms.ts';

export const kindWords: Readonly<Record<AccountKind, string>> = {
  used_car_lot: 'Used-car lot',
  new_car_dealer: 'New-car dealer',
  glass_installer: 'Glass installer',
  tint_shop: 'Tint shop',
  body_shop: 'Body shop',
  fleet: 'Fleet',
  rental: 'Rental',
  wholesaler: 'Wholesaler',
  insurer: 'Insurer',
  retail: 'Retail',
};

export const statementWords: Readonly<Record<AccountTermsInput['statementKind'], string>> = {
  open_item: 'Open items',
  balance_forward: 'Balance forward',
  none: 'No statement',
};

export const invoiceWords: Readonly<Record<AccountTermsInput['invoiceRule'], string>> = {
  at_once: 'For each vehicle, at once',
  per_visit: 'One for each visit',
  monthly: 'One for each month',
};

export const acceptanceWords: Readonly<Record<AccountTermsInput['acceptanceRule'], string>> = {
  none: 'Nobody has to sign',
  vehicle_owner: 'The vehicle’s owner signs',
  account_representative: 'Somebody of the account signs',
};

export const photoWords: Readonly<Record<AccountTermsInput['photoRule'], string>> = {
  retail: 'Walk-around, before and after',
  trade: 'Before, proof and after',
  lot: 'Before and after',
};

export const ownNumberWords: Readonly<Record<NonNullable<AccountTermsInput['ownNumberKind']>, string>> = {
  stock: 'Stock number',
  unit: 'Unit number',
  lot: 'Lot number',
  job: 'Job number',
  claim: 'Claim number',
};

export const roleWords: Readonly<Record<ContactRole, string>> = {
  approver: 'Approver',
  payer: 'Payer',
  viewer: 'Viewer',
};

export const certificateWords: Readonly<Record<AccountView['certificates'][number]['kind'], string>> = {
  resale: 'Resale',
  exempt_use: 'Exempt use',
};

export function termsWords(days: number): string {
  return days === 0 ? 'At once' : `Net ${days}`;
}

/** The entries of one of these lists as choices of a field. */
export function choicesOf(words: Readonly<Record<string, string>>): readonly Omit<Choice, 'detail'>[] {
  return Object.entries(words).map(([value, label]) => ({ value, label }));
}

/** What was sent, if it is one of the list; a form sends nothing else unless somebody wrote it by hand. */
export function chosen<Name extends string>(
  words: Readonly<Record<Name, string>>,
  text: string,
): Name | null {
  const isOne = (value: string): value is Name => Object.hasOwn(words, value);
  return isOne(text) ? text : null;
}
