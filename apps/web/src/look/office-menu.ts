/**
 * officeMenu({role, current}): the pages of the office in groups. A group is a disclosure of the browser's own, so it
 * opens without JavaScript and by keyboard, and only one is open at a time; a group with one page is a plain link.
 * What somebody's role may not open is left out. A new page is one line in `groups`.
 */
import { allows, type Permission, type Role } from '@grainwright/domain';
import { attributes, type Html, html } from './html.ts';

interface MenuEntry {
  readonly section: string;
  readonly label: string;
  readonly href: string;
  readonly permission: Permission;
}

const groups = [
  {
    label: 'Work',
    entries: [
      { section: 'board', label: 'Board', href: '/office/board', permission: 'see_all_work_orders' },
      {
        section: 'work-orders',
        label: 'Work orders',
        href: '/office/work-orders',
        permission: 'see_all_work_orders',
      },
      { section: 'stops', label: 'Stops', href: '/office/stops', permission: 'see_all_work_orders' },
      { section: 'vehicles', label: 'Vehicles', href: '/office/vehicles', permission: 'see_work_orders' },
    ],
  },
  {
    label: 'Accounts',
    entries: [
      { section: 'accounts', label: 'Accounts', href: '/office/accounts', permission: 'see_accounts' },
    ],
  },
  {
    label: 'Billing',
    entries: [
      { section: 'invoices', label: 'Invoices', href: '/office/invoices', permission: 'see_invoices' },
      {
        section: 'credit-notes',
        label: 'Credit notes',
        href: '/office/credit-notes',
        permission: 'see_invoices',
      },
      { section: 'disputes', label: 'Disputes', href: '/office/disputes', permission: 'see_invoices' },
      {
        section: 'statements',
        label: 'Statements',
        href: '/office/statements',
        permission: 'see_statements',
      },
      { section: 'mailbox', label: 'Mailbox', href: '/office/mailbox', permission: 'see_statements' },
    ],
  },
  {
    label: 'Money',
    entries: [
      { section: 'payment', label: 'Payments', href: '/office/payments', permission: 'see_payments' },
      {
        section: 'new-payment',
        label: 'Record a payment',
        href: '/office/payments/new',
        permission: 'record_payment',
      },
      {
        section: 'deposits',
        label: 'Record a deposit',
        href: '/office/deposits/new',
        permission: 'record_payment',
      },
      {
        section: 'parked-receipts',
        label: 'Receipts without a payer',
        href: '/office/parked-receipts',
        permission: 'see_payments',
      },
      { section: 'clearing', label: 'Card payments', href: '/office/clearing', permission: 'see_payments' },
      {
        section: 'late-charges',
        label: 'Late charges',
        href: '/office/late-charges',
        permission: 'see_payments',
      },
    ],
  },
  {
    label: 'Reports',
    entries: [
      { section: 'aging', label: 'Aging', href: '/office/aging', permission: 'see_statements' },
      { section: 'sales-tax', label: 'Sales tax', href: '/office/sales-tax', permission: 'see_ledger' },
      { section: 'commissions', label: 'Commissions', href: '/office/commissions', permission: 'see_ledger' },
      { section: 'figures', label: 'Figures', href: '/office/figures', permission: 'see_ledger' },
      { section: 'month-close', label: 'Month close', href: '/office/month-close', permission: 'see_ledger' },
    ],
  },
  {
    label: 'Setup',
    entries: [
      {
        section: 'price-book',
        label: 'Price book',
        href: '/office/price-book',
        permission: 'see_price_book',
      },
      { section: 'seals', label: 'Seals', href: '/office/seals', permission: 'change_settings' },
      { section: 'business', label: 'Business', href: '/office/business', permission: 'change_settings' },
      {
        section: 'retention',
        label: 'Retention',
        href: '/office/retention',
        permission: 'change_retention',
      },
    ],
  },
] as const satisfies readonly { readonly label: string; readonly entries: readonly MenuEntry[] }[];

export type OfficeSection = (typeof groups)[number]['entries'][number]['section'];

export function officeMenu(menu: {
  readonly role: Role | undefined;
  readonly current: OfficeSection | null;
}): Html {
  const mayOpen = (entry: MenuEntry) => menu.role === undefined || allows(menu.role, entry.permission);
  const shown = groups.map(({ label, entries }) => {
    const all: readonly MenuEntry[] = entries;
    return { label, entries: all.filter(mayOpen) };
  });
  return html`<nav class="top-nav menu" aria-label="Pages">
        <ul>${shown.map(({ label, entries }) => group(label, entries, menu.current))}</ul>
      </nav>`;
}

function group(label: string, entries: readonly MenuEntry[], current: string | null): Html | false {
  const [only, another] = entries;
  if (only === undefined) return false;
  if (another === undefined) return html`<li>${menuLink(only, current)}</li>`;
  const isHere = entries.some((entry) => entry.section === current);
  return html`<li><details class="menu-group" name="office-menu">
          <summary class="${isHere && 'menu-here'}">${label}${isHere && html`<span class="heard">, you are here</span>`}</summary>
          <ul>${entries.map((entry) => html`<li>${menuLink(entry, current)}</li>`)}</ul>
        </details></li>`;
}

function menuLink(entry: MenuEntry, current: string | null): Html {
  return html`<a href="${entry.href}" ${attributes({ 'aria-current': entry.section === current ? 'page' : null })}>${entry.label}</a>`;
}
