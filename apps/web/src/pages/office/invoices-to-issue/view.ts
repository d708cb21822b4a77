import type { AccountId, Problem, WorkOrderId } from '@grainwright/domain';
import type { InvoicePreview, InvoiceToIssue, ReadyList, WorkToBill } from '@grainwright/operations';
import { actionButton, quietButton, quietLink } from '../../../look/buttons.ts';
import { columns } from '../../../look/field-group.ts';
import { dayShown, money } from '../../../look/figures.ts';
import { checkboxField, dateField, hiddenCsrf, hiddenField } from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { officePage } from '../../../look/layout.ts';
import { notice, statusWord } from '../../../look/notices.ts';
import { type Column, dataTable, definitionList, emptyState } from '../../../look/tables.ts';
import type { Frame } from '../../person.ts';
import { workOrderNumber } from '../../work-order/state-words.ts';
import { invoiceWords } from '../account-words.ts';
import { numberNames } from '../number-names.ts';
import { invoiceWhen, waitWords } from './wait-words.ts';

/** What was chosen for an invoice that was not issued, kept when the page comes back. */
export interface ChosenWork {
  readonly invoiceId: string;
  readonly workOrderIds: readonly WorkOrderId[];
  readonly issuedOn: string;
  readonly preview: InvoicePreview | null;
}

export interface ReadyView {
  readonly frame: Frame;
  readonly list: ReadyList;
  /** Only this account; null: every one. */
  readonly accountId: AccountId | null;
  readonly newId: () => string;
  readonly chosen: ChosenWork | null;
  readonly problem: Problem | null;
}

export function readyView(view: ReadyView): Html {
  const { frame, list, accountId, problem } = view;
  const ready = list.invoices.filter((invoice) => invoice.waits === null);
  const waiting = list.invoices.filter((invoice) => invoice.waits !== null);
  const older = new URLSearchParams({ after: list.next ?? '' });
  return officePage({
    ...frame,
    title: 'Ready to invoice',
    heading: 'Ready to invoice',
    lead: 'Accepted work that no invoice holds yet, put together as each account is invoiced.',
    beside: quietLink({ label: 'Invoices', href: '/office/invoices' }),
    current: 'invoices',
    body: html`${problem && notice('problem', 'No invoice was issued', problem.detail)}
      ${runForm(view)}
      ${ready.some((invoice) => invoice.invoiceRule === 'at_once') && atOnceNotice()}
      <h2>Ready</h2>
      ${ready.map((invoice) => invoiceForm(invoice, view))}
      ${ready.length === 0 && emptyState('Nothing is ready', 'Work shows up here when it is accepted and its numbers are there.')}
      ${waiting.length > 0 && html`<h2>Not ready yet</h2>${waiting.map((invoice) => invoiceForm(invoice, view))}`}
      ${list.next !== null && html`<nav class="buttons" aria-label="Pages of the list">${quietLink({ label: 'Further accounts', href: `/office/invoices/ready?${older}` })}</nav>`}
      ${accountId !== null && html`<p>${quietLink({ label: 'Every account', href: '/office/invoices/ready' })}</p>`}`,
  });
}

function atOnceNotice(): Html {
  return notice(
    'info',
    'Invoiced at once, and still here',
    'An account that is invoiced at once gets its invoice by itself when staff take the last step. Where the account gave the last number itself, nobody of the business was there: issue it here.',
  );
}

/** Issues all that is ready, of every page of the list. */
function runForm({ frame, accountId, problem }: ReadyView): Html {
  const errorOf = (field: string) => (problem?.field === field ? problem.detail : undefined);
  return html`<form class="filters" method="post" action="/office/invoices/ready">
    ${hiddenCsrf(frame.csrfToken)}
    ${accountId !== null && hiddenField('account', accountId)}
    ${dateField({ name: 'through', label: 'Work through', value: frame.me.today, max: frame.me.today, error: errorOf('through') })}
    ${dateField({ name: 'issued_on', label: 'Date of the invoices', value: frame.me.today, max: frame.me.today, id: 'field-run-issued-on' })}
    ${actionButton({ label: 'Issue all that is ready' })}
  </form>`;
}

function invoiceForm(invoice: InvoiceToIssue, view: ReadyView): Html {
  const { frame } = view;
  const chosen = chosenOf(invoice, view.chosen);
  const first = invoice.workOrders[0]?.id ?? '';
  return html`<section id="${`invoice-of-${first}`}">
    <h3>${invoice.accountName}</h3>
    <p>${invoiceWhen(invoice)}. ${invoiceWords[invoice.invoiceRule]}.
      ${invoice.waits !== null && statusWord('waiting', waitWords(invoice.waits))}</p>
    <form method="post" action="/office/invoices">
      ${hiddenCsrf(frame.csrfToken)}
      ${hiddenField('invoice_id', chosen?.invoiceId ?? view.newId())}
      ${dataTable({
        caption: `Vehicles of ${invoice.accountName}, ${invoiceWhen(invoice)}`,
        captionHidden: true,
        columns: workColumns(invoice, chosen),
        rows: invoice.workOrders,
        empty: emptyState('Nothing here', 'No vehicle waits for its invoice.'),
      })}
      ${chosen?.preview && previewPart(chosen.preview)}
      ${dateField({
        name: 'issued_on',
        id: `issued-on-${first}`,
        label: 'Date of the invoice',
        value: chosen?.issuedOn ?? frame.me.today,
        max: frame.me.today,
        error: chosen !== null && view.problem?.field === 'issued_on' ? view.problem.detail : undefined,
      })}
      <p class="buttons">${quietButton({ label: invoice.waits === null ? 'Issue the invoice' : 'Issue it now all the same' })}
        ${quietButton({ label: 'See what it comes to', formAction: '/office/invoices/preview' })}</p>
    </form>
  </section>`;
}

/** What came back belongs to the invoice that holds its work orders. */
function chosenOf(invoice: InvoiceToIssue, chosen: ChosenWork | null): ChosenWork | null {
  if (chosen === null) return null;
  return invoice.workOrders.some(({ id }) => chosen.workOrderIds.includes(id)) ? chosen : null;
}

function workColumns(invoice: InvoiceToIssue, chosen: ChosenWork | null): readonly Column<WorkToBill>[] {
  const { currency, month } = invoice;
  const day: readonly Column<WorkToBill>[] = [{ header: 'Day', cell: (row) => dayShown(row.day) }];
  return [
    { header: 'Bill', names: true, cell: (row) => billCell(row, chosen) },
    {
      header: 'Vehicle',
      cell: (row) => html`<a href="/office/work-orders/${row.id}">${row.vehicle}</a>`,
    },
    ...(month === null ? [] : day),
    { header: 'Numbers', cell: numbersCell },
    { header: 'Still missing', cell: missingCell },
    {
      header: 'Repairs or fee',
      figure: true,
      cell: (row) =>
        row.feeMinor === null
          ? money(row.repairsMinor ?? 0n, currency)
          : html`not there ${money(row.feeMinor, currency)}`,
    },
  ];
}

function billCell(row: WorkToBill, chosen: ChosenWork | null): Html {
  return checkboxField({
    name: 'work_order_ids',
    id: `bill-${row.id}`,
    value: row.id,
    label: workOrderNumber(row.number),
    checked: chosen === null ? row.missing.length === 0 : chosen.workOrderIds.includes(row.id),
  });
}

function numbersCell(row: WorkToBill): Html | string {
  const { roInvoicedOn } = row;
  if (roInvoicedOn.length === 0) return row.numbers;
  return html`${row.numbers}
    ${statusWord('problem', `This RO is on ${roInvoicedOn.join(', ')} already. Is it the same job twice?`)}`;
}

function missingCell(row: WorkToBill): Html | false {
  if (row.missing.length === 0) return false;
  return statusWord('waiting', row.missing.map((kind) => numberNames[kind]).join(', '));
}

function previewPart(preview: InvoicePreview): Html {
  const { currency } = preview;
  const entry = (term: string, minor: bigint) =>
    minor === 0n ? [] : [{ term, value: money(minor, currency) }];
  return columns([
    html`<h4>What it comes to</h4>${definitionList([
      ...entry('Repairs', preview.repairsMinor),
      ...entry('After hours', preview.afterHoursMinor),
      ...entry('Rush', preview.rushMinor),
      ...entry('Visit minimum', preview.visitMinimumMinor),
      ...entry('Trip', preview.tripMinor),
      ...entry('Vehicles not there', preview.feesMinor),
      { term: 'Tax', value: money(preview.taxMinor, currency) },
      { term: 'Total', value: money(preview.totalMinor, currency) },
      ...entry('Deposit', -preview.prepaidMinor),
      {
        term: 'Due',
        value: html`${money(preview.totalMinor - preview.prepaidMinor, currency)} by ${dayShown(preview.dueOn)}`,
      },
    ])}`,
  ]);
}
