import type { CertificateWarning } from '@grainwright/domain';
import { allows } from '@grainwright/domain';
import type { InvoiceList, InvoiceStanding, InvoiceView } from '@grainwright/operations';
import { quietButton, quietLink } from '../../../look/buttons.ts';
import { selectField } from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { accountPage } from '../../../look/layout.ts';
import { emptyState } from '../../../look/tables.ts';
import { disputeTable } from '../../billing/dispute-table.ts';
import { invoiceEvidence } from '../../billing/invoice-evidence.ts';
import { invoiceSheet } from '../../billing/invoice-sheet.ts';
import { invoiceStatus, invoiceTable } from '../../billing/invoice-table.ts';
import { logoAddress } from '../../billing/logo-address.ts';
import type { Frame } from '../../person.ts';
import { certificateNotice } from '../../work-order/certificate-notice.ts';

/** How an invoice stands, as the list asks for it. */
export const standings: Readonly<Record<InvoiceStanding, string>> = {
  open: 'Open',
  disputed: 'In dispute',
  paid: 'Paid or credited',
  void: 'Void',
};

export function accountInvoicesView(view: {
  readonly frame: Frame;
  readonly list: InvoiceList;
  readonly standing: InvoiceStanding | null;
  readonly certificateWarning: CertificateWarning | null;
}): Html {
  const { frame, list, standing, certificateWarning } = view;
  return accountPage({
    ...frame,
    title: 'Invoices',
    heading: 'Invoices',
    lead: `From ${frame.me.business.name}, newest first.`,
    beside: [
      quietLink({ label: 'Disputes', href: '/account/disputes' }),
      quietLink({ label: 'Against new parts', href: '/account/savings' }),
    ],
    current: 'invoices',
    body: html`${certificateNotice(certificateWarning, 'customer')}
      <form class="filters" method="get" action="/account/invoices">
        ${selectField({
          name: 'standing',
          label: 'Which',
          empty: 'All of them',
          value: standing ?? '',
          choices: Object.entries(standings).map(([value, label]) => ({ value, label })),
        })}
        ${quietButton({ label: 'Show' })}
      </form>
      ${invoiceTable({ list, me: frame.me, base: '/account/invoices', query: standing === null ? {} : { standing }, withAccount: false })}`,
  });
}

export function accountInvoiceView({
  frame,
  invoice,
}: {
  readonly frame: Frame;
  readonly invoice: InvoiceView;
}): Html {
  const mayDispute = invoice.disputedMinor < invoice.openMinor && allows(frame.me.role, 'dispute_invoice');
  return accountPage({
    ...frame,
    title: invoice.number,
    heading: invoice.number,
    lead: invoiceStatus(invoice, frame.me),
    beside: [
      invoice.voidedOn === null &&
        quietLink({ label: 'As PDF', href: `/account/invoices/${invoice.id}/invoice.pdf` }),
      mayDispute &&
        quietLink({ label: 'Something is not right', href: `/account/invoices/${invoice.id}/dispute` }),
      quietLink({ label: 'Who did what', href: `/account/invoices/${invoice.id}/trail` }),
      quietLink({ label: 'All invoices', href: '/account/invoices' }),
    ],
    current: 'invoices',
    body: html`${invoiceSheet(invoice, frame.me.business.timeZone, logoAddress(frame.me.business))}${invoice.voidedOn === null && invoiceEvidence(invoice, 'account')}${afterIssue(invoice)}`,
  });
}

function afterIssue({ number, creditedBy, disputes }: InvoiceView): Html {
  return html`${
    creditedBy.length > 0 &&
    html`<section><h2>Credit notes</h2><ul>${creditedBy.map(
      (each) => html`<li><a href="${`/account/credit-notes/${each.creditNoteId}`}">${each.number}</a></li>`,
    )}</ul></section>`
  }
  ${
    disputes.length > 0 &&
    html`<section><h2>In dispute</h2>${disputeTable({
      caption: `What is not agreed on ${number}`,
      rows: disputes,
      base: null,
      columns: [],
      empty: emptyState('Nothing is in dispute', 'All of it is agreed.'),
    })}</section>`
  }`;
}
