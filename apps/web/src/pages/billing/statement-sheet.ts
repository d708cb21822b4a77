import { agingBuckets } from '@grainwright/domain';
import { agingBucketNames, type StatementRowView, type StatementView } from '@grainwright/operations';
import { agingBars } from '../../look/aging-bars.ts';
import { documentSheet, sums } from '../../look/document-sheet.ts';
import { ageText, dayShown, dayText, money, monthText } from '../../look/figures.ts';
import { type Html, html } from '../../look/html.ts';
import { type Definition, dataTable, emptyState } from '../../look/tables.ts';
import { sheetParty } from './invoice-sheet.ts';

/** A month of an account as a sheet to keep or print. `invoices` is where its invoices are: `/office/invoices`. */
export function statementSheet(statement: StatementView, invoices: string): Html {
  const { account } = statement;
  const buyer = { name: account.name, address: account.billingAddress, phone: '', email: '' };
  return documentSheet({
    kind: 'Statement',
    number: monthText(statement.month),
    business: sheetParty(statement.business),
    to: sheetParty(buyer),
    facts: [
      { term: 'From', value: dayShown(statement.from) },
      { term: 'Through', value: dayShown(statement.to) },
      { term: 'Our books', value: `up to entry ${statement.posting}` },
    ],
    body: html`
      ${movements(statement, invoices)}
      ${sums(balances(statement))}
      ${openItems(statement, invoices)}
      ${replacement(statement)}`,
    closing: closing(statement),
  });
}

function movements({ rows, currency }: StatementView, invoices: string): Html {
  const charge = (row: StatementRowView) => row.kind === 'charge' && money(row.amountMinor, currency);
  const credit = (row: StatementRowView) => row.kind !== 'charge' && money(-row.amountMinor, currency);
  return dataTable({
    caption: 'What happened this month',
    columns: [
      { header: 'Date', cell: (row) => dayShown(row.on) },
      { header: 'Entry', names: true, cell: (row) => entryWords(row, invoices) },
      { header: 'Charges', figure: true, cell: charge },
      { header: 'Credits and payments', figure: true, cell: credit },
    ],
    rows,
    empty: emptyState('Nothing this month', 'No invoice was issued and no money came in.'),
  });
}

function entryWords(row: StatementRowView, invoices: string): Html {
  if (row.invoiceId === null) return html`${row.words} ${row.document}`;
  return html`${row.words} <a href="${`${invoices}/${row.invoiceId}`}">${row.document}</a>`;
}

function balances(statement: StatementView): readonly Definition[] {
  const { currency } = statement;
  return [
    { term: 'Opening balance', value: money(statement.openingMinor, currency) },
    { term: 'Charges', value: money(statement.chargesMinor, currency) },
    { term: 'Credits', value: money(-statement.creditsMinor, currency) },
    { term: 'Payments', value: money(-statement.paymentsMinor, currency) },
    { term: 'Closing balance', value: money(statement.closingMinor, currency) },
  ];
}

function openItems({ aging, currency, to }: StatementView, invoices: string): Html {
  return html`${dataTable({
    caption: `Open as of ${dayText(to)}`,
    columns: [
      {
        header: 'Invoice',
        names: true,
        cell: (item) => html`<a href="${`${invoices}/${item.invoiceId}`}">${item.number}</a>`,
      },
      { header: 'Date', cell: (item) => dayShown(item.issuedOn) },
      { header: 'Due', cell: (item) => dayShown(item.dueOn) },
      {
        header: 'Past due',
        figure: true,
        cell: (item) => (item.daysPastDue === 0 ? 'not yet due' : ageText(item.daysPastDue)),
      },
      { header: 'Open', figure: true, cell: (item) => money(item.openMinor, currency) },
    ],
    rows: aging.items,
    empty: emptyState('Nothing is open', 'Every invoice up to then is settled.'),
  })}
  ${
    aging.items.length > 0 &&
    agingBars({
      caption: aging.basis === 'due_date' ? 'Open by days past due' : 'Open by days since the invoice',
      buckets: agingBuckets.map((bucket) => ({
        label: agingBucketNames[bucket],
        amountMinor: aging.buckets[bucket],
        overdue: bucket !== 'current',
      })),
      currency,
    })
  }
  ${
    aging.unappliedMinor !== 0n &&
    html`<p>${money(-aging.unappliedMinor, currency)} credit is not yet applied to an invoice.
    It is part of the closing balance.</p>`
  }`;
}

function replacement({ replacement: quoted, currency }: StatementView): Html | false {
  if (quoted.vehicles === 0) return false;
  const vehicles = quoted.vehicles === 1 ? 'one vehicle' : `${quoted.vehicles} vehicles`;
  return html`<p>New parts for ${vehicles} invoiced this month were quoted at ${money(quoted.quotedMinor, currency)};
    the repairs came to ${money(quoted.repairsMinor, currency)}, before trip and tax.</p>`;
}

/** A balance in the customer's favor is a credit, not a bill. */
function closing({ closingMinor, currency, to }: StatementView): Html {
  if (closingMinor < 0n)
    return html`<p><b>${money(-closingMinor, currency)}</b> in your favor as of ${dayShown(to)}. Nothing is to be paid.</p>`;
  if (closingMinor === 0n) return html`<p><b>Nothing is owed</b> as of ${dayShown(to)}.</p>`;
  return html`<p><b>${money(closingMinor, currency)}</b> owed as of ${dayShown(to)}</p>`;
}
