import { expect, test } from 'vitest';
import { allows, contactRoles, type Permission, permissions, type Role, staffRoles } from './permissions.ts';

/** Who may do what, by the first letters of owner, office, technician, bookkeeper | approver, payer, viewer. */
const table: Readonly<Record<Permission, string>> = {
  see_work_orders: 'owner office technician bookkeeper approver payer viewer',
  see_all_work_orders: 'owner office bookkeeper',
  write_up: 'owner office technician',
  change_estimate: 'owner office technician',
  price_by_hand: 'owner office',
  consent_below_floor: 'owner',
  decide_estimate: 'approver',
  record_decision: 'owner office technician',
  start_work: 'owner office technician',
  override_warning: 'owner office technician',
  cover_photos: 'owner office technician',
  uncover_photos: 'owner',
  take_acceptance: 'owner office technician',
  release_acceptance: 'owner office',
  release_blocked_line: 'owner',
  record_no_show: 'owner office technician',
  void_work_order: 'owner office',
  hold_work_order: 'owner office',
  keep_for_law: 'owner office',
  change_retention: 'owner',
  give_links: 'owner office technician',
  write_message: 'owner office technician bookkeeper approver payer viewer',
  give_numbers: 'owner office technician bookkeeper approver payer',
  see_price_book: 'owner office technician bookkeeper',
  change_price_book: 'owner',
  see_accounts: 'owner office technician bookkeeper',
  change_accounts: 'owner office bookkeeper',
  hand_in_certificate: 'approver payer',
  see_invoices: 'owner office bookkeeper approver payer viewer',
  issue_invoice: 'owner office bookkeeper',
  void_invoice: 'owner bookkeeper',
  issue_credit_note: 'owner bookkeeper',
  dispute_invoice: 'owner office bookkeeper approver payer',
  see_payments: 'owner office bookkeeper payer',
  record_payment: 'owner bookkeeper',
  write_off: 'owner bookkeeper',
  see_statements: 'owner office bookkeeper approver payer viewer',
  issue_statement: 'owner bookkeeper',
  see_ledger: 'owner bookkeeper',
  close_month: 'owner bookkeeper',
  reopen_month: 'owner',
  manage_staff: 'owner',
  change_settings: 'owner',
};

const roles: readonly Role[] = [...staffRoles, ...contactRoles];

test.each(Object.entries(table))('%s is for %s and nobody else', (name, who) => {
  const permission = Object.keys(permissions).find((key): key is Permission => key === name);
  if (permission === undefined) throw new Error(`no permission ${name}`);
  expect(roles.filter((role) => allows(role, permission)).join(' ')).toBe(who);
});

test('the table has every permission', () => {
  expect(Object.keys(permissions).toSorted()).toEqual(Object.keys(table).toSorted());
});

test('nobody of an account can read or change a price book', () => {
  for (const role of contactRoles) {
    expect(allows(role, 'see_price_book')).toBe(false);
    expect(allows(role, 'change_price_book')).toBe(false);
  }
});
