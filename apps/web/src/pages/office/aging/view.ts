import { type AgingBasis, agingBuckets } from '@grainwright/domain';
import {
  type AccountAgingView,
  type AgedAccount,
  type AgingView,
  agingBucketNames,
} from '@grainwright/operations';
import { ageStrip } from '../../../look/age-strip.ts';
import { agingBars, largestMinor } from '../../../look/aging-bars.ts';
import { quietButton, quietLink } from '../../../look/buttons.ts';
import { ageText, dayShown, dayText, money, moneyText } from '../../../look/figures.ts';
import { dateField, errorSummary, type FieldError } from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { officePage } from '../../../look/layout.ts';
import { statusWord } from '../../../look/notices.ts';
import { type Column, dataTable, emptyState } from '../../../look/tables.ts';
import type { Frame } from '../../person.ts';

/** What every account owed on a day, by age; the way down to each invoice and its pictures. */
export function agingPage({ frame, aging }: { readonly frame: Frame; readonly aging: AgingView }): Html {
  return officePage({
    ...frame,
    title: 'Aging',
    heading: 'Aging',
    lead: `As of ${dayText(aging.asOf)}, ${basisWords[aging.basis]}. Only what is dated up to that day counts.`,
    current: 'aging',
    wide: true,
    body: html`${asOfForm('/office/aging', aging.asOf)}
      ${accountsTable(aging)}
      <p>${statusWord('settled', 'Ties out')} Receivables less account credit in the ledger: ${money(aging.ledgerMinor, aging.currency)}.</p>
      ${aging.next !== null && html`<nav class="buttons" aria-label="Pages of the list">${quietLink({ label: `More of the ${aging.accountsInAll} accounts`, href: `/office/aging?as_of=${aging.asOf}&after=${aging.next}` })}</nav>`}`,
  });
}

/** The form again, with why the day can't be shown. */
export function agingAskedAgain(asked: {
  readonly frame: Frame;
  readonly asOf: string;
  readonly problems: readonly FieldError[];
}): Html {
  return officePage({
    ...asked.frame,
    title: 'Aging',
    heading: 'Aging',
    current: 'aging',
    body: html`${errorSummary(asked.problems)}${asOfForm('/office/aging', asked.asOf, asked.problems[0]?.message)}`,
  });
}

const basisWords: Readonly<Record<AgingBasis, string>> = {
  due_date: 'by due date',
  document_date: 'by document date',
};

function asOfForm(action: string, asOf: string, error?: string): Html {
  return html`<form class="filters" method="get" action="${action}">
    ${dateField({ name: 'as_of', label: 'As of', value: asOf, error })}
    ${quietButton({ label: 'Show' })}
  </form>`;
}

function accountsTable(aging: AgingView): Html {
  const { currency, total } = aging;
  const owedMinor = (row: Pick<AgedAccount, 'buckets'>) =>
    agingBuckets.reduce((sum, bucket) => sum + row.buckets[bucket], 0n);
  const mostMinor = largestMinor(aging.accounts.map(owedMinor));
  const quietly = (minor: bigint) =>
    minor === 0n ? html`<span class="nothing">–</span>` : money(minor, currency);
  const bucketColumns = agingBuckets.map(
    (bucket): Column<AgedAccount> => ({
      header: agingBucketNames[bucket],
      figure: true,
      cell: (row) => quietly(row.buckets[bucket]),
      total: money(total.buckets[bucket], currency),
    }),
  );
  return dataTable({
    caption: `Aging of all accounts as of ${dayText(aging.asOf)}`,
    captionHidden: true,
    csvHref: `/office/aging.csv?as_of=${aging.asOf}`,
    totalsLabel: aging.next === null ? 'Total' : `Total of all ${aging.accountsInAll} accounts`,
    columns: [
      {
        header: 'Account',
        names: true,
        cell: (row) =>
          html`<a class="long-name" href="/office/aging/${row.accountId}?as_of=${aging.asOf}">${row.name}</a>`,
      },
      {
        header: 'By age',
        cell: (row) =>
          ageStrip(
            agingBuckets.map((bucket) => row.buckets[bucket]),
            mostMinor,
          ),
      },
      ...bucketColumns,
      {
        header: 'Unapplied',
        figure: true,
        cell: (row) => quietly(row.unappliedMinor),
        total: money(total.unappliedMinor, currency),
      },
      {
        header: 'Balance',
        figure: true,
        cell: (row) => html`<b>${money(row.balanceMinor, currency)}</b>`,
        total: money(total.balanceMinor, currency),
      },
      {
        header: 'In dispute',
        figure: true,
        cell: (row) => quietly(row.disputedMinor),
        total: money(total.disputedMinor, currency),
      },
    ],
    rows: aging.accounts,
    empty: emptyState('Nobody owes anything', 'No document was open on that day, and no credit unapplied.'),
  });
}

/** The open documents of one account, each a link to the invoice with its pictures. */
export function accountAgingPage({
  frame,
  aging,
}: {
  readonly frame: Frame;
  readonly aging: AccountAgingView;
}): Html {
  const { currency } = aging;
  return officePage({
    ...frame,
    title: `Aging of ${aging.name}`,
    heading: aging.name,
    lead: `Open as of ${dayText(aging.asOf)}, ${basisWords[aging.basis]}.`,
    current: 'aging',
    beside: html`${quietLink({ label: 'The account', href: `/office/accounts/${aging.accountId}` })} ${quietLink({ label: 'All accounts', href: `/office/aging?as_of=${aging.asOf}` })}`,
    body: html`${asOfForm(`/office/aging/${aging.accountId}`, aging.asOf)}
      ${agingBars({
        caption: 'By age',
        currency,
        buckets: agingBuckets.map((bucket) => ({
          label: agingBucketNames[bucket],
          amountMinor: aging.buckets[bucket],
          overdue: bucket !== 'current',
        })),
      })}
      ${itemsTable(aging)}
      <p>Unapplied credit ${moneyText(aging.unappliedMinor, currency)}; balance <b>${moneyText(aging.balanceMinor, currency)}</b>.</p>`,
  });
}

function itemsTable({ items, currency, asOf }: AccountAgingView): Html {
  return dataTable({
    caption: 'Open documents',
    columns: [
      {
        header: 'Document',
        names: true,
        cell: (item) => html`<a href="/office/invoices/${item.invoiceId}">${item.number}</a>`,
      },
      { header: 'Dated', cell: (item) => dayShown(item.issuedOn) },
      { header: 'Due', cell: (item) => dayShown(item.dueOn) },
      {
        header: 'Past due',
        figure: true,
        cell: (item) => (item.daysPastDue === 0 ? 'not yet' : ageText(item.daysPastDue)),
      },
      { header: 'Age', cell: (item) => agingBucketNames[item.bucket] },
      {
        header: 'In dispute',
        figure: true,
        cell: (item) => (item.disputedMinor === 0n ? '' : money(item.disputedMinor, currency)),
      },
      { header: 'Open', figure: true, cell: (item) => money(item.openMinor, currency) },
    ],
    rows: items,
    empty: emptyState('Nothing open', `No document of this account was open on ${dayText(asOf)}.`),
  });
}
