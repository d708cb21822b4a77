import type { Problem } from '@grainwright/domain';
import { type InvoiceRowView, paymentMethods } from '@grainwright/operations';
import { actionButton, quietButton } from '../../../look/buttons.ts';
import { dayShown, money, moneyText } from '../../../look/figures.ts';
import {
  type Choice,
  dateField,
  errorSummary,
  hiddenCsrf,
  hiddenField,
  moneyField,
  radioCards,
  selectField,
  textField,
} from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { officePage } from '../../../look/layout.ts';
import { dataTable, emptyState } from '../../../look/tables.ts';
import { invoiceStatus } from '../../billing/invoice-table.ts';
import { problemsOf } from '../../form-problems.ts';
import type { Frame } from '../../person.ts';

/** Who paid comes first, because what is open depends on it. */
export function choosePayerView(frame: Frame, accounts: readonly Choice[]): Html {
  return officePage({
    ...frame,
    title: 'Record a payment',
    heading: 'Record a payment',
    lead: 'Who paid?',
    current: 'payment',
    body: html`<form method="get" action="/office/payments/new">
        ${selectField({ name: 'account', label: 'Account', required: true, empty: 'Choose an account', choices: accounts })}
        ${actionButton({ label: 'Go on' })}
      </form>`,
  });
}

const methodChoices: readonly Choice[] = Object.entries(paymentMethods).map(([value, words]) => ({
  value,
  label: `${words.charAt(0).toUpperCase()}${words.slice(1)}`,
}));

/** What was typed, by the field's name. */
export type Typed = (name: string) => string;

export interface PaymentForm {
  readonly frame: Frame;
  readonly account: { readonly id: string; readonly name: string };
  readonly paymentId: string;
  /** Oldest first: they are what is usually paid. */
  readonly open: readonly InvoiceRowView[];
  /** Whether more are open than are listed. */
  readonly more: boolean;
  readonly typed: Typed;
  /** Its field is a name of this form. */
  readonly problem: Problem | null;
}

export const appliedField = (invoiceId: string) => `applied-${invoiceId}`;

export function paymentFormView(form: PaymentForm): Html {
  const { frame, account, open, typed } = form;
  const { errorOf, summary } = problemsOf(form.problem, [
    'method',
    'amount',
    'received_on',
    'reference',
    ...open.map((row) => appliedField(row.id)),
  ]);
  const { currency } = frame.me.business;
  const field = (name: string) => ({ name, value: typed(name), error: errorOf(name) });
  return officePage({
    ...frame,
    title: 'Record a payment',
    heading: 'Record a payment',
    lead: `From ${account.name}`,
    current: 'payment',
    body: html`${errorSummary(summary)}
      <form method="post" action="/office/payments/new">
        ${hiddenCsrf(frame.csrfToken)}
        ${hiddenField('payment_id', form.paymentId)}
        ${hiddenField('account', account.id)}
        <div class="field-group">
          ${moneyField({ ...field('amount'), label: 'Amount received', currency, required: true })}
          ${dateField({ ...field('received_on'), label: 'Received on', max: frame.me.today, required: true })}
          ${textField({ ...field('reference'), label: 'Reference', hint: 'The check’s number, or the bank’s reference.', maxLength: 80, required: false })}
        </div>
        ${radioCards({ ...field('method'), label: 'How', required: true, choices: methodChoices })}
        ${openInvoices(form, field)}
        ${form.more && html`<p>These are the oldest that are open; the others follow once these are paid.</p>`}
        <p>What is not put on an invoice stays account credit.</p>
        ${actionButton({ label: 'Record the payment' })}
      </form>`,
  });
}

type FieldOf = (name: string) => {
  readonly name: string;
  readonly value: string;
  readonly error: string | undefined;
};

function openInvoices({ open, frame, account }: PaymentForm, field: FieldOf): Html {
  return dataTable({
    caption: `What ${account.name} has open`,
    columns: [
      {
        header: 'Invoice',
        names: true,
        cell: (row) =>
          html`<a href="/office/invoices/${row.id}">${row.number}</a>${hiddenField('invoice_id', row.id)}`,
      },
      { header: 'Date', cell: (row) => dayShown(row.issuedOn) },
      { header: 'Status', cell: (row) => invoiceStatus(row, frame.me) },
      { header: 'Open', figure: true, cell: (row) => money(row.openMinor, row.currency) },
      {
        header: 'Apply',
        cell: (row) =>
          moneyField({ ...field(appliedField(row.id)), label: `To ${row.number}`, currency: row.currency }),
      },
    ],
    rows: open,
    empty: emptyState(
      'Nothing is open',
      'The payment will be account credit until there is an invoice to apply it to.',
    ),
  });
}

/** Puts what is unapplied of a payment on one invoice. */
export interface ApplyForm {
  readonly csrfToken: string;
  readonly paymentId: string;
  readonly applicationId: string;
  readonly currency: string;
  readonly open: readonly InvoiceRowView[];
  readonly typed: Typed;
  readonly problem: Problem | null;
}

export function applyForm(form: ApplyForm): Html {
  const { open, typed, currency } = form;
  if (open.length === 0)
    return html`<p>The account has nothing open. The rest stays credit until there is an invoice.</p>`;
  const { errorOf, summary } = problemsOf(form.problem, ['invoice_id', 'amount']);
  const choices = open.map((row) => ({
    value: row.id,
    label: `${row.number}, ${moneyText(row.openMinor, row.currency)} open`,
  }));
  return html`${errorSummary(summary)}
    <form method="post" action="/office/payments/${form.paymentId}/applications">
      ${hiddenCsrf(form.csrfToken)}
      ${hiddenField('application_id', form.applicationId)}
      <div class="field-group">
        ${selectField({ name: 'invoice_id', label: 'Invoice', value: typed('invoice_id'), error: errorOf('invoice_id'), required: true, empty: 'Choose an invoice', choices })}
        ${moneyField({ name: 'amount', label: 'Amount', value: typed('amount'), error: errorOf('amount'), currency, required: true })}
      </div>
      ${quietButton({ label: 'Apply' })}
    </form>`;
}
