/** Roles of people who work for the repair business. */
export const staffRoles = ['owner', 'office', 'technician', 'bookkeeper'] as const;
/** Roles of people of an account. What they see is their own account's only. */
export const contactRoles = ['approver', 'payer', 'viewer'] as const;

export type StaffRole = (typeof staffRoles)[number];
export type ContactRole = (typeof contactRoles)[number];
export type Role = StaffRole | ContactRole;

/** What a person may do, in a closed list. A sentence for each, for pages that explain a refusal. */
export const permissions = {
  see_work_orders: 'open work orders: staff any of the business, contacts those of their account',
  see_all_work_orders: 'have every work order of the business in lists, not only their own visits',
  write_up: 'write up a vehicle and add photos',
  change_estimate: 'change lines, sizes and prices before acceptance',
  price_by_hand: 'give a line a price by hand, with a reason',
  consent_below_floor: 'consent to a price below the business’s floor',
  decide_estimate: 'approve or decline lines for the account, within a limit',
  record_decision: 'write down a yes or no that the customer gave in person',
  start_work: 'start and finish work, and acknowledge cautions',
  override_warning: 'override a contradiction or photo warning with a reason',
  cover_photos: 'cover faces, license plates and addresses in a photo for everybody but the staff',
  uncover_photos: 'take a covering away',
  take_acceptance: 'hand over the phone for the acceptance, or record a refusal or absence',
  release_acceptance: 'release work that was refused or nobody was there to accept',
  release_blocked_line: 'release a seam that may cover a side airbag',
  record_no_show: 'void a work order of their own visit because the vehicle is not there',
  void_work_order: 'void a work order',
  hold_work_order: 'put a work order on hold and lift it',
  keep_for_law: 'keep what is on record of a work order or an account from being deleted',
  change_retention: 'set how long photos and files are kept, and let them be deleted',
  give_links: 'send links to the account’s approvers and to vehicle owners, and take them back',
  write_message: 'ask and answer on a work order',
  give_numbers: 'give RO, PO and other numbers of the account',
  see_price_book: 'see the price book',
  change_price_book: 'change the price book',
  see_accounts: 'see the business’s accounts',
  change_accounts: 'change accounts, their terms, contacts and certificates',
  hand_in_certificate: 'hand in a tax certificate of the account, for the business to check',
  see_invoices: 'see invoices and credit notes',
  issue_invoice: 'issue an invoice',
  void_invoice: 'void an invoice',
  issue_credit_note: 'issue a credit note',
  dispute_invoice: 'say that a part of an invoice is not agreed with',
  see_payments: 'see payments and what they were applied to',
  record_payment: 'record, apply and return payments',
  write_off: 'write off what will not be paid',
  see_statements: 'see statements and aging',
  issue_statement: 'issue statements',
  see_ledger: 'see and export the ledger, and the reports drawn from it',
  close_month: 'close a month of the books',
  reopen_month: 'open a closed month again',
  manage_staff: 'invite and remove staff, and set their roles',
  change_settings: 'change the business’s own settings',
} as const satisfies Record<string, string>;

export type Permission = keyof typeof permissions;

/** Whether a role may do something. Whose data it may do it to is decided by tenant and account. */
export function allows(role: Role, permission: Permission): boolean {
  return granted[role].includes(permission);
}

const vehicleSide = [
  'see_work_orders',
  'write_up',
  'change_estimate',
  'record_decision',
  'start_work',
  'override_warning',
  'cover_photos',
  'take_acceptance',
  'record_no_show',
  'give_links',
  'write_message',
  'give_numbers',
  'see_price_book',
  'see_accounts',
] as const satisfies readonly Permission[];

const moneySide = [
  'see_work_orders',
  'see_all_work_orders',
  'write_message',
  'give_numbers',
  'see_price_book',
  'see_accounts',
  'change_accounts',
  'see_invoices',
  'issue_invoice',
  'void_invoice',
  'issue_credit_note',
  'dispute_invoice',
  'see_payments',
  'record_payment',
  'write_off',
  'see_statements',
  'issue_statement',
  'see_ledger',
  'close_month',
] as const satisfies readonly Permission[];

const ownAccount = [
  'see_work_orders',
  'write_message',
  'see_invoices',
  'see_statements',
] as const satisfies readonly Permission[];

const granted: Readonly<Record<Role, readonly Permission[]>> = {
  owner: [
    ...vehicleSide,
    ...moneySide,
    'price_by_hand',
    'consent_below_floor',
    'release_acceptance',
    'release_blocked_line',
    'void_work_order',
    'hold_work_order',
    'uncover_photos',
    'keep_for_law',
    'change_retention',
    'change_price_book',
    'reopen_month',
    'manage_staff',
    'change_settings',
  ],
  office: [
    ...vehicleSide,
    'price_by_hand',
    'see_all_work_orders',
    'release_acceptance',
    'void_work_order',
    'hold_work_order',
    'keep_for_law',
    'change_accounts',
    'see_invoices',
    'issue_invoice',
    'dispute_invoice',
    'see_payments',
    'see_statements',
  ],
  technician: vehicleSide,
  bookkeeper: moneySide,
  approver: [...ownAccount, 'decide_estimate', 'dispute_invoice', 'give_numbers', 'hand_in_certificate'],
  payer: [...ownAccount, 'see_payments', 'dispute_invoice', 'give_numbers', 'hand_in_certificate'],
  viewer: ownAccount,
};
