import { agingBuckets, type LastSealedDay, sealedDayWords } from '@grainwright/domain';
import {
  agingBucketNames,
  type StatementItemView,
  type StatementRowView,
  type StatementView,
} from '@grainwright/operations';
import { agingBars } from '../../look/aging-bars.ts';
import { documentSheet, sums } from '../../look/document-sheet.ts';
import { ageText, dayShown, dayText, instantShown, money, monthText } from '../../look/figures.ts';
import { type Html, html } from '../../look/html.ts';
import { notice } from '../../look/notices.ts';
import { type Definition, dataTable, emptyState } from '../../look/tables.ts';
import { sheetParty } from './invoice-sheet.ts';

export interface SheetPlace {
  /** Where its invoices are: `/office/invoices`. */
  readonly invoices: string;
  readonly timeZone: string;
  /** The service’s address, as it is printed. */
  readonly publicUrl: string;
  /** Where sealed days can be compared; left out for whoever has no page of them. */
  readonly seals?: string | undefined;
  /** Where the business's logo is. */
  readonly logo?: string | undefined;
}

/** A month of an account as a sheet to keep or print. */
export function statementSheet(statement: StatementView, place: SheetPlace): Html {
  const { account, kind, frozen } = statement;
  const buyer = { name: account.name, address: account.billingAddress, phone: '', email: '' };
  const movementsPart = movements(statement, place.invoices);
  const openPart = openItems(statement, place.invoices);
  return html`${
    frozen === null &&
    notice(
      'info',
      'Not issued yet',
      'This is how the month stands now. What is posted until it is issued may still change it.',
    )
  }
  ${documentSheet({
    kind: 'Statement',
    number: monthText(statement.month),
    business: sheetParty(statement.business),
    logo: place.logo,
    to: sheetParty(buyer),
    facts: [
      { term: 'From', value: dayShown(statement.from) },
      { term: 'Through', value: dayShown(statement.to) },
      { term: 'Our books', value: `up to entry ${statement.posting}` },
      {
        term: 'Issued',
        value: frozen === null ? 'not yet' : instantShown(frozen.issuedAt, place.timeZone),
      },
    ],
    body: html`
      ${kind === 'balance_forward' ? movementsPart : openPart}
      ${sums(balances(statement))}
      ${kind === 'balance_forward' ? openPart : movementsPart}
      ${aging(statement)}
      ${asides(statement)}
      ${frozen !== null && html`<p class="hint">SHA-256 of what was issued: <span class="code">${frozen.digest}</span></p>`}
      ${frozen !== null && statement.sealedDay !== null && sealed(statement.sealedDay, place)}`,
    closing: closing(statement),
  })}`;
}

/** What ties the business to its evidence as it stood: whoever keeps the statement can hold it to that. */
function sealed(day: LastSealedDay, { publicUrl, seals }: SheetPlace): Html {
  const [sentence, ...digests] = sealedDayWords(day, publicUrl);
  return html`<section>
    <p class="hint">${sentence}</p>
    ${digests.map((words) => html`<p class="hint digest">${words}</p>`)}
    ${seals !== undefined && html`<p class="unprinted"><a href="${`${seals}?to=${day.day}`}">Compare them now</a>, or <a href="/verify">check an evidence pack</a></p>`}
  </section>`;
}

/** Brought forward, every entry leads from one balance to the next. */
function movements(statement: StatementView, invoices: string): Html {
  const { currency } = statement;
  const charge = (row: Movement) => row.kind === 'charge' && money(row.amountMinor, currency);
  const credit = (row: Movement) => row.kind !== 'charge' && money(-row.amountMinor, currency);
  return dataTable({
    caption: 'What happened this month',
    columns: [
      { header: 'Date', cell: (row) => dayShown(row.on) },
      { header: 'Entry', names: true, cell: (row) => entryWords(row, invoices) },
      { header: 'Your numbers', cell: (row) => row.theirNumbers },
      { header: 'Charges', figure: true, cell: charge },
      { header: 'Credits and payments', figure: true, cell: credit },
      ...(statement.kind === 'balance_forward'
        ? [{ header: 'Balance', figure: true, cell: (row: Movement) => money(row.balanceMinor, currency) }]
        : []),
    ],
    rows: withBalances(statement),
    empty: emptyState('Nothing this month', 'No invoice was issued and no money came in.'),
  });
}

interface Movement extends StatementRowView {
  readonly balanceMinor: bigint;
}

function withBalances({ rows, openingMinor }: StatementView): readonly Movement[] {
  const moved: Movement[] = [];
  let balanceMinor = openingMinor;
  for (const row of rows) {
    balanceMinor += row.amountMinor;
    moved.push({ ...row, balanceMinor });
  }
  return moved;
}

function entryWords(row: StatementRowView, invoices: string): Html {
  if (row.invoiceId === null || row.creditNoteId !== null) return html`${row.words} ${row.document}`;
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

function openItems({ aging: { items }, currency, to }: StatementView, invoices: string): Html {
  const total = (amount: (item: StatementItemView) => bigint) =>
    money(
      items.reduce((sum, item) => sum + amount(item), 0n),
      currency,
    );
  return dataTable({
    caption: `Open as of ${dayText(to)}`,
    columns: [
      {
        header: 'Number',
        names: true,
        cell: (item) => html`<a href="${`${invoices}/${item.invoiceId}`}">${item.number}</a>`,
      },
      { header: 'Your numbers', cell: (item) => item.theirNumbers },
      { header: 'Date', cell: (item) => dayShown(item.issuedOn) },
      { header: 'Due', cell: (item) => dayShown(item.dueOn) },
      {
        header: 'Past due',
        figure: true,
        cell: (item) => (item.daysPastDue === 0 ? 'not yet due' : ageText(item.daysPastDue)),
      },
      { header: 'Amount', figure: true, cell: (item) => money(item.amountMinor, currency) },
      { header: 'Paid or credited', figure: true, cell: (item) => money(item.settledMinor, currency) },
      {
        header: 'Open',
        figure: true,
        cell: (item) => openCell(item, currency),
        total: total((item) => item.openMinor),
      },
    ],
    rows: items,
    empty: emptyState('Nothing is open', 'Every invoice up to then is settled.'),
  });
}

function openCell({ openMinor, disputedMinor }: StatementItemView, currency: string): Html {
  return html`${money(openMinor, currency)}${
    disputedMinor !== 0n && html`<br><span class="hint">disputed ${money(disputedMinor, currency)}</span>`
  }`;
}

function aging({ aging: aged, currency }: StatementView): Html | false {
  if (aged.items.length === 0) return false;
  return agingBars({
    caption: aged.basis === 'due_date' ? 'Open by days past due' : 'Open by days since the invoice',
    buckets: agingBuckets.map((bucket) => ({
      label: agingBucketNames[bucket],
      amountMinor: aged.buckets[bucket],
      overdue: bucket !== 'current',
    })),
    currency,
  });
}

/** What is no row: credit that settles nothing yet, deposits that are no part of the balance, what was saved. */
function asides({ aging: aged, depositsHeldMinor, replacement: quoted, currency }: StatementView): Html {
  const vehicles = quoted.vehicles === 1 ? 'one vehicle' : `${quoted.vehicles} vehicles`;
  return html`${
    aged.unappliedMinor !== 0n &&
    html`<p>${money(-aged.unappliedMinor, currency)} credit is not yet applied to an invoice.
    It is part of the closing balance.</p>`
  }${
    depositsHeldMinor !== 0n &&
    html`<p>${money(depositsHeldMinor, currency)} is held in deposits for work not yet invoiced.
    They are no part of the balance.</p>`
  }${
    quoted.vehicles > 0 &&
    html`<p>New parts for ${vehicles} invoiced this month were quoted at ${money(quoted.quotedMinor, currency)};
    the repairs came to ${money(quoted.repairsMinor, currency)}, before trip and tax.</p>`
  }`;
}

/** A balance in the customer's favor is a credit, not a bill. */
function closing({ closingMinor, currency, to }: StatementView): Html {
  if (closingMinor < 0n)
    return html`<p><b>Credit balance ${money(-closingMinor, currency)}</b> as of ${dayShown(to)}. Nothing is to be paid:
    it can be refunded or used on the next invoice.</p>`;
  if (closingMinor === 0n) return html`<p><b>Nothing is owed</b> as of ${dayShown(to)}.</p>`;
  return html`<p><b>${money(closingMinor, currency)}</b> owed as of ${dayShown(to)}</p>`;
}
