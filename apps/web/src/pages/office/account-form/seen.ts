import type { AccountAsSeen } from '@grainwright/operations';
import {
  acceptanceWords,
  invoiceWords,
  kindWords,
  ownNumberWords,
  photoWords,
  statementWords,
} from '../account-words.ts';
import { type AccountFormValues, accountEndOf, accountTermsOf, emptyAccountForm } from './form.ts';

/** The account as it stood when the form was first shown, kept in a field of the form. */
export function writeSeen(values: AccountFormValues): string {
  return JSON.stringify(values);
}

/** Null where the form brought nothing of ours; then nobody can tell what was seen. */
export function readSeen(text: string): AccountFormValues | null {
  const read = parsed(text);
  if (read === null || typeof read !== 'object') return null;
  const values = new Map<string, unknown>(Object.entries(read));
  const textOf = (name: string) => {
    const value = values.get(name);
    return typeof value === 'string' ? value : '';
  };
  const names = Object.keys(emptyAccountForm);
  return { ...emptyAccountForm, ...Object.fromEntries(names.map((name) => [name, textOf(name)])) };
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
}

/** As the operation takes it. */
export function asSeen(values: AccountFormValues): AccountAsSeen | undefined {
  const terms = accountTermsOf(values);
  return terms.ok ? { ...terms.value, ...accountEndOf(values) } : undefined;
}

export interface ChangedMeanwhile {
  readonly label: string;
  readonly was: string;
  readonly is: string;
}

/** What somebody else changed while the form was open, in the words of the form. */
export function changedMeanwhile(
  seen: AccountFormValues,
  stored: AccountFormValues,
  names: ReadonlyMap<string, string>,
): readonly ChangedMeanwhile[] {
  return fieldsOf(seen)
    .filter((field) => seen[field] !== stored[field])
    .map((field) => ({
      label: labels[field],
      was: inWords(field, seen[field], names),
      is: inWords(field, stored[field], names),
    }));
}

/** What was typed, over what the account says by now: fields that were left as they were follow the account. */
export function typedOver(
  typed: AccountFormValues,
  seen: AccountFormValues,
  stored: AccountFormValues,
): AccountFormValues {
  const merged = fieldsOf(typed).map((field) => [
    field,
    typed[field] === seen[field] ? stored[field] : typed[field],
  ]);
  return { ...typed, ...Object.fromEntries(merged) };
}

type Field = keyof AccountFormValues;

function fieldsOf(values: AccountFormValues): readonly Field[] {
  const isField = (name: string): name is Field => Object.hasOwn(emptyAccountForm, name);
  return Object.keys(values).filter(isField);
}

const labels: Readonly<Record<Field, string>> = {
  short_name: 'Short name',
  name: 'Name',
  kind: 'Kind',
  billing_address: 'Billing address',
  tier_code: 'Prices',
  tax_area_code: 'Tax area',
  terms_days: 'Days to pay',
  statement_kind: 'Statement',
  invoice_rule: 'Invoices',
  own_number_kind: 'Their number for a vehicle',
  acceptance_rule: 'Acceptance',
  photo_rule: 'Photos',
  no_show_fee: 'Fee when the vehicle is not there',
  statement_email: 'E-mail for statements',
  remind_after_hours: 'Reminder after hours',
  group_id: 'Group',
  new_group: 'New group',
  ended_on: 'Last day',
  successor_id: 'Followed by',
  requires_ro: 'RO number needed',
  requires_po: 'PO number needed',
  own_number_required: 'Their number needed',
  shows_prices_at_acceptance: 'Prices shown to the signer',
  walk_in: 'They come to us',
  applies_money_itself: 'Money settles the oldest by itself',
};

const choices: Partial<Record<Field, Readonly<Record<string, string>>>> = {
  kind: kindWords,
  statement_kind: statementWords,
  invoice_rule: invoiceWords,
  own_number_kind: ownNumberWords,
  acceptance_rule: acceptanceWords,
  photo_rule: photoWords,
};

/** `names` are those of groups and accounts by id. */
function inWords(field: Field, value: string, names: ReadonlyMap<string, string>): string {
  if (value === '') return 'nothing';
  return choices[field]?.[value] ?? names.get(value) ?? value;
}
