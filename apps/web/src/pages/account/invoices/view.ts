import type { InvoiceList, InvoiceView } from '@grainwright/operations';
import { quietButton, quietLink } from '../../../look/buttons.ts';
import { checkboxField } from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { accountPage } from '../../../look/layout.ts';
import { invoiceSheet } from '../../billing/invoice-sheet.ts';
import { invoiceStatus, invoiceTable } from '../../billing/invoice-table.ts';
import type { Frame } from '../../person.ts';

export function accountInvoicesView(view: {
  readonly frame: Frame;
  readonly list: InvoiceList;
  readonly openOnly: boolean;
}): Html {
  const { frame, list, openOnly } = view;
  return accountPage({
    ...frame,
    title: 'Invoices',
    heading: 'Invoices',
    lead: `From ${frame.me.business.name}, newest first.`,
    current: 'invoices',
    body: html`<form class="filters" method="get" action="/account/invoices">
        ${checkboxField({ name: 'open', label: 'Only open ones', checked: openOnly })}
        ${quietButton({ label: 'Show' })}
      </form>
      ${invoiceTable({ list, me: frame.me, base: '/account/invoices', query: openOnly ? { open: 'yes' } : {}, withAccount: false })}`,
  });
}

export function accountInvoiceView({
  frame,
  invoice,
}: {
  readonly frame: Frame;
  readonly invoice: InvoiceView;
}): Html {
  return accountPage({
    ...frame,
    title: invoice.number,
    heading: invoice.number,
    lead: invoiceStatus(invoice, frame.me),
    beside: quietLink({ label: 'All invoices', href: '/account/invoices' }),
    current: 'invoices',
    body: invoiceSheet(invoice, frame.me.business.timeZone),
  });
}
