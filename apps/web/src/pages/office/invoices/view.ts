import { allows } from '@grainwright/domain';
import type { InvoiceList, InvoiceView } from '@grainwright/operations';
import { actionLink, quietButton, quietLink } from '../../../look/buttons.ts';
import { type Choice, checkboxField, selectField } from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { officePage } from '../../../look/layout.ts';
import { invoiceEvidence } from '../../billing/invoice-evidence.ts';
import { invoiceSheet } from '../../billing/invoice-sheet.ts';
import { invoiceStatus, invoiceTable } from '../../billing/invoice-table.ts';
import { logoAddress } from '../../billing/logo-address.ts';
import type { Frame } from '../../person.ts';
import { afterIssue } from './after-issue.ts';

export interface OfficeInvoicesView {
  readonly frame: Frame;
  readonly list: InvoiceList;
  readonly accounts: readonly Choice[];
  readonly account: string;
  readonly openOnly: boolean;
}

export function officeInvoicesView(view: OfficeInvoicesView): Html {
  const { frame, list, account, openOnly } = view;
  const query = { ...(account === '' ? {} : { account }), ...(openOnly ? { open: 'yes' } : {}) };
  return officePage({
    ...frame,
    title: 'Invoices',
    heading: 'Invoices',
    lead: list.accountName ?? 'Every account, newest first.',
    beside: [
      allows(frame.me.role, 'issue_invoice') &&
        actionLink({ label: 'Ready to invoice', href: '/office/invoices/ready' }),
      quietLink({ label: 'Payments', href: '/office/payments' }),
    ],
    current: 'invoices',
    body: html`<form class="filters" method="get" action="/office/invoices" role="search">
        ${selectField({ name: 'account', label: 'Account', value: account, empty: 'Every account', choices: view.accounts })}
        ${checkboxField({ name: 'open', label: 'Only open ones', checked: openOnly })}
        ${quietButton({ label: 'Show' })}
      </form>
      ${invoiceTable({ list, me: frame.me, base: '/office/invoices', query, withAccount: account === '' })}`,
  });
}

export interface OfficeInvoiceView {
  readonly frame: Frame;
  readonly invoice: InvoiceView;
}

export function officeInvoiceView({ frame, invoice }: OfficeInvoiceView): Html {
  const { accountId, openMinor } = invoice;
  const mayPay = openMinor > 0n && allows(frame.me.role, 'record_payment');
  return officePage({
    ...frame,
    title: invoice.number,
    heading: invoice.number,
    lead: html`${invoice.accountName} ${invoiceStatus(invoice, frame.me)}`,
    beside: [
      mayPay && actionLink({ label: 'Record a payment', href: `/office/payments/new?account=${accountId}` }),
      invoice.voidedOn === null &&
        quietLink({ label: 'As PDF', href: `/office/invoices/${invoice.id}/invoice.pdf` }),
      quietLink({ label: 'Who did what', href: `/office/invoices/${invoice.id}/trail` }),
      quietLink({ label: 'Invoices of the account', href: `/office/invoices?account=${accountId}` }),
      quietLink({ label: 'Statements', href: `/office/statements?account=${accountId}` }),
    ],
    current: 'invoices',
    body: html`${invoiceSheet(invoice, frame.me.business.timeZone, logoAddress(frame.me.business))}${invoiceEvidence(invoice, 'office')}${afterIssue(frame, invoice)}`,
  });
}
