import type { Problem } from '@grainwright/domain';
import { type InvoiceRowView, paymentMethods } from '@grainwright/operations';
import { actionButton, quietButton, quietLink } from '../../../look/buttons.ts';
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

/** Where in the list of open invoices a form stands: after what, and where it goes on; null at its ends. */
export interface OpenPages {
  readonly past: bigint | null;
  readonly next: bigint | null;
}

export interface PaymentForm {
  readonly frame: Frame;
  readonly account: { readonly id: string; readonly name: string };
  readonly paymentId: string;
  /** Oldest first: they are what is usually paid. */
  readonly open: readonly InvoiceRowView[];
  readonly pages: OpenPages;
  /** Invoices of other pages on which an amount was put. */
  readonly elsewhere: readonly string[];
  readonly typed: Typed;
  /** Its field is a name of this form. */
  readonly problem: Problem | null;
}

/** Sent along when another page of the open invoices is asked for, instead of a payment recorded. */
export const turningField = 'turn';

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
      <form method="post" action="${formAddress(form.pages.past)}">
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
        <p>What is not put on an invoice stays account credit.</p>
        ${actionButton({ label: 'Record the payment' })}
        ${otherPages(form)}
      </form>`,
  });
}

function formAddress(past: bigint | null): string {
  return past === null ? '/office/payments/new' : `/office/payments/new?past=${past}`;
}

/**
 * Another page of what is open comes with all that was typed; nothing is recorded by turning it. Its buttons come
 * after the one that records, which the Enter key presses.
 */
function otherPages({ pages, elsewhere, typed }: PaymentForm): Html {
  const { past, next } = pages;
  const turn = (label: string, to: bigint | null) =>
    quietButton({ label, name: turningField, value: 'yes', formAction: formAddress(to), unfinished: true });
  const kept =
    elsewhere.length === 1 ? 'The amount for one invoice' : `The amounts for ${elsewhere.length} invoices`;
  return html`${elsewhere.map((id) => html`${hiddenField('invoice_id', id)}${hiddenField(appliedField(id), typed(appliedField(id)))}`)}
    ${elsewhere.length > 0 && html`<p>${kept} of other pages is kept and will be applied as well.</p>`}
    ${
      (past !== null || next !== null) &&
      html`<div class="buttons">
        ${past !== null && turn('The oldest invoices', null)}
        ${next !== null && turn('Later invoices', next)}
      </div>`
    }`;
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
  readonly pages: OpenPages;
  readonly typed: Typed;
  readonly problem: Problem | null;
}

export function applyForm(form: ApplyForm): Html {
  const { open, pages, typed, currency, paymentId } = form;
  if (open.length === 0 && pages.past === null)
    return html`<p>The account has nothing open. The rest stays credit until there is an invoice.</p>`;
  const { errorOf, summary } = problemsOf(form.problem, ['invoice_id', 'amount']);
  const choices = open.map((row) => ({
    value: row.id,
    label: `${row.number}, ${moneyText(row.openMinor, row.currency)} open`,
  }));
  const query = pages.past === null ? '' : `?past=${pages.past}`;
  const turn = (label: string, search: string) =>
    quietLink({ label, href: `/office/payments/${paymentId}${search}` });
  return html`${errorSummary(summary)}
    <form method="post" action="${`/office/payments/${paymentId}/applications${query}`}">
      ${hiddenCsrf(form.csrfToken)}
      ${hiddenField('application_id', form.applicationId)}
      <div class="field-group">
        ${selectField({ name: 'invoice_id', label: 'Invoice', value: typed('invoice_id'), error: errorOf('invoice_id'), required: true, empty: 'Choose an invoice', choices })}
        ${moneyField({ name: 'amount', label: 'Amount', value: typed('amount'), error: errorOf('amount'), currency, required: true })}
      </div>
      ${quietButton({ label: 'Apply' })}
    </form>
    ${
      (pages.past !== null || pages.next !== null) &&
      html`<nav class="buttons" aria-label="Other open invoices">
        ${pages.past !== null && turn('The oldest invoices', '')}
        ${pages.next !== null && turn('Later invoices', `?past=${pages.next}`)}
      </nav>`
    }`;
}
