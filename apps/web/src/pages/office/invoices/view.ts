import { allows, type Problem } from '@grainwright/domain';
import type { InvoiceList, InvoiceView, VisitToInvoice } from '@grainwright/operations';
import { actionButton, actionLink, quietButton, quietLink } from '../../../look/buttons.ts';
import { dayText, money } from '../../../look/figures.ts';
import { type Choice, checkboxField, hiddenCsrf, hiddenField, selectField } from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { officePage } from '../../../look/layout.ts';
import { notice, statusWord } from '../../../look/notices.ts';
import { dataTable, emptyState } from '../../../look/tables.ts';
import { invoiceSheet } from '../../billing/invoice-sheet.ts';
import { invoiceStatus, invoiceTable } from '../../billing/invoice-table.ts';
import type { Frame } from '../../person.ts';
import { workOrderNumber } from '../../work-order/state-words.ts';
import { numberNames } from '../number-names.ts';

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
      quietLink({ label: 'Invoices of the account', href: `/office/invoices?account=${accountId}` }),
      quietLink({ label: 'Statements', href: `/office/statements?account=${accountId}` }),
    ],
    current: 'invoices',
    body: invoiceSheet(invoice, frame.me.business.timeZone),
  });
}

export interface ReadyView {
  readonly frame: Frame;
  readonly visits: readonly VisitToInvoice[];
  readonly newId: () => string;
  readonly problem: Problem | null;
}

export function readyView({ frame, visits, newId, problem }: ReadyView): Html {
  return officePage({
    ...frame,
    title: 'Ready to invoice',
    heading: 'Ready to invoice',
    lead: 'Accepted work that no invoice holds yet, by visit. One invoice may hold several vehicles of a visit.',
    beside: quietLink({ label: 'Invoices', href: '/office/invoices' }),
    current: 'invoices',
    body: html`${problem && notice('problem', 'No invoice was issued', problem.detail)}
      ${visits.map((visit) => visitForm(visit, newId(), frame.csrfToken))}
      ${visits.length === 0 && emptyState('Nothing waits for an invoice', 'Work shows up here when it is accepted.')}`,
  });
}

function visitForm(visit: VisitToInvoice, invoiceId: string, csrfToken: string): Html {
  const { accountName, siteName, day, workOrders, currency } = visit;
  const missing = workOrders.some((each) => each.missing.length > 0);
  return html`<section id="${`visit-${visit.visitId}`}">
    <h2>${accountName}</h2>
    <p>${siteName}, ${dayText(day)}</p>
    <form method="post" action="/office/invoices">
      ${hiddenCsrf(csrfToken)}
      ${hiddenField('invoice_id', invoiceId)}
      ${dataTable({
        caption: `Vehicles of ${accountName} on ${dayText(day)}`,
        captionHidden: true,
        columns: [
          { header: 'Bill', names: true, cell: billCell },
          {
            header: 'Vehicle',
            cell: (row) => html`<a href="/office/work-orders/${row.id}">${row.vehicle}</a>`,
          },
          { header: 'Numbers', cell: (row) => row.numbers },
          { header: 'Still missing', cell: missingCell },
          { header: 'Repairs', figure: true, cell: (row) => money(row.repairsMinor, currency) },
        ],
        rows: workOrders,
        empty: emptyState('Nothing here', 'No vehicle of this visit waits for its invoice.'),
      })}
      ${missing && html`<p>Ask the account for what is missing and write it on the work order, or leave that vehicle out.</p>`}
      ${actionButton({ label: 'Issue the invoice' })}
    </form>
  </section>`;
}

type Row = VisitToInvoice['workOrders'][number];

function billCell(row: Row): Html {
  return checkboxField({
    name: 'work_order_ids',
    id: `bill-${row.id}`,
    value: row.id,
    label: workOrderNumber(row.number),
    checked: row.missing.length === 0,
  });
}

function missingCell(row: Row): Html | false {
  if (row.missing.length === 0) return false;
  return statusWord('waiting', row.missing.map((kind) => numberNames[kind]).join(', '));
}
