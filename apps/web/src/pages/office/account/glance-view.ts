import { agingBuckets, disputeReasons, sumMinor } from '@grainwright/domain';
import {
  type AccountAgingView,
  type AccountView,
  agingBucketNames,
  boardOrder,
  type DisputeView,
  type PaymentView,
  paymentMethods,
  type WaitingCounts,
} from '@grainwright/operations';
import { agingBars } from '../../../look/aging-bars.ts';
import { columns } from '../../../look/field-group.ts';
import { ageText, dayShown, dayText, money } from '../../../look/figures.ts';
import { type Html, html } from '../../../look/html.ts';
import { type Definition, dataTable, definitionList, emptyState } from '../../../look/tables.ts';
import { waitsForWords } from '../../work-order/state-words.ts';
import type { AccountGlance } from './glance.ts';

const rowsShown = 8;

/** What the account owes, has waiting and has paid lately: each part leads to the page that has all of it. */
export function glanceView(view: AccountView, glance: AccountGlance): Html {
  const { aging, disputes, payments, counts } = glance;
  return html`<section id="money"><h2>Where it stands</h2>
      ${columns([definitionList(standing(view, glance)), ...(aging === null ? [] : [ageOf(aging)])])}
    </section>
    ${aging !== null && openDocuments(aging)}
    ${disputes !== null && disputes.length > 0 && disputeTable(disputes, view)}
    ${counts !== null && underWay(counts, view)}
    ${payments !== null && lastPayments(payments, view)}`;
}

/** Money first, then what lets work go on: the certificate and what was agreed beforehand. */
function standing(view: AccountView, { aging, deposits }: AccountGlance): readonly Definition[] {
  const { currency } = view;
  const amount = (term: string, minor: bigint) => ({ term, value: money(minor, currency) });
  const pastDue = (found: AccountAgingView) =>
    sumMinor(agingBuckets.filter((bucket) => bucket !== 'current').map((bucket) => found.buckets[bucket]));
  return [
    ...(aging === null
      ? []
      : [
          { term: 'Balance', value: html`<b>${money(aging.balanceMinor, currency)}</b>` },
          amount('Past due', pastDue(aging)),
          amount('Credit not applied', -aging.unappliedMinor),
          amount('In dispute', sumMinor(aging.items.map((item) => item.disputedMinor))),
        ]),
    ...(deposits === null
      ? []
      : [amount('Deposits held', sumMinor(deposits.map((deposit) => deposit.unappliedMinor)))]),
    { term: 'Certificate', value: html`<a href="#certificates">${certificateWords(view)}</a>` },
    { term: 'Standing approval', value: html`<a href="#agreements">${approvalWords(view)}</a>` },
    { term: 'May approve', value: html`<a href="#contacts">${approverWords(view)}</a>` },
  ];
}

function certificateWords({ certificates }: AccountView): string {
  const valid = certificates.find(({ standing: now }) => now === 'valid' || now === 'ending');
  if (valid === undefined) return 'None today: taxed as its area says';
  return valid.validTo === null ? `${valid.number}, no end` : `${valid.number}, to ${dayText(valid.validTo)}`;
}

function approvalWords({ standingApprovals }: AccountView): string {
  return standingApprovals.find((each) => each.standing === 'in_force')?.words ?? 'None today';
}

function approverWords({ contacts }: AccountView): string {
  const approvers = contacts.filter((each) => each.role === 'approver' && !each.hasEnded);
  return approvers.length === 0 ? 'Nobody' : approvers.map((each) => each.name).join(', ');
}

function ageOf(aging: AccountAgingView): Html {
  return agingBars({
    caption: 'What is open, by age',
    currency: aging.currency,
    buckets: agingBuckets.map((bucket) => ({
      label: agingBucketNames[bucket],
      amountMinor: aging.buckets[bucket],
      overdue: bucket !== 'current',
    })),
  });
}

function openDocuments({ items, currency, accountId }: AccountAgingView): Html {
  return html`<section id="open-documents"><h2>Open documents</h2>
    ${dataTable({
      caption: 'Open documents, the oldest due first',
      captionHidden: true,
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
        {
          header: 'In dispute',
          figure: true,
          cell: (item) => item.disputedMinor !== 0n && money(item.disputedMinor, currency),
        },
        { header: 'Open', figure: true, cell: (item) => money(item.openMinor, currency) },
      ],
      rows: items.slice(0, rowsShown),
      empty: emptyState('Nothing open', 'Everything that was invoiced is settled.'),
    })}
    ${items.length > rowsShown && html`<p><a href="/office/aging/${accountId}">All ${items.length} open documents</a></p>`}
  </section>`;
}

function disputeTable(disputes: readonly DisputeView[], { account, currency }: AccountView): Html {
  return html`<section id="disputes"><h2>Disputes without an answer</h2>
    ${dataTable({
      caption: 'Disputes without an answer, the longest open first',
      captionHidden: true,
      columns: [
        {
          header: 'Invoice',
          names: true,
          cell: (each) => html`<a href="/office/disputes/${each.id}">${each.invoiceNumber}</a>`,
        },
        { header: 'Why', cell: (each) => disputeReasons[each.reason] },
        { header: 'Open for', figure: true, cell: (each) => ageText(each.days) },
        { header: 'Amount', figure: true, cell: (each) => money(each.amountMinor, currency) },
      ],
      rows: disputes.slice(0, rowsShown),
      empty: html``,
    })}
    ${disputes.length > rowsShown && html`<p><a href="/office/disputes?account=${account.id}">All disputes</a></p>`}
  </section>`;
}

function underWay(counts: WaitingCounts, { account }: AccountView): Html {
  const waiting = boardOrder.filter((each) => counts[each] > 0);
  return html`<section id="work"><h2>Work under way</h2>
    ${
      waiting.length === 0
        ? html`<p>Nothing is under way.</p>`
        : html`<ul class="board">${waiting.map(
            (each) =>
              html`<li><a href="${`/office/work-orders?waits=${each}&account=${account.id}`}"><span class="board-count">${counts[each]}</span> <span>for ${waitsForWords[each]}</span></a></li>`,
          )}</ul>`
    }
    <p><a href="/office/board?account=${account.id}">On the board</a></p>
  </section>`;
}

function lastPayments(payments: readonly PaymentView[], { account, currency }: AccountView): Html {
  return html`<section id="payments"><h2>Last payments</h2>
    ${dataTable({
      caption: 'Last payments',
      captionHidden: true,
      columns: [
        {
          header: 'Payment',
          names: true,
          cell: (each) => html`<a href="/office/payments/${each.id}">${paymentWords(each)}</a>`,
        },
        { header: 'Received', cell: (each) => dayShown(each.receivedOn) },
        { header: 'Settled', cell: (each) => each.applications.map((one) => one.invoiceNumber).join(', ') },
        { header: 'Standing', cell: (each) => (each.state === 'received' ? '' : each.state) },
        {
          header: 'Not applied',
          figure: true,
          cell: (each) => each.unappliedMinor !== 0n && money(each.unappliedMinor, currency),
        },
        { header: 'Amount', figure: true, cell: (each) => money(each.amountMinor, currency) },
      ],
      rows: payments.slice(0, rowsShown),
      empty: emptyState('No payment yet', 'What they pay stands here.'),
    })}
    ${payments.length > rowsShown && html`<p><a href="/office/payments?account=${account.id}">All payments</a></p>`}
  </section>`;
}

function paymentWords({ purpose, method, reference }: PaymentView): string {
  return `${purpose === 'deposit' ? 'Deposit by ' : ''}${paymentMethods[method]} ${reference}`.trim();
}
