import type { PurchaseOrderView, StandingApprovalView } from '@grainwright/operations';
import { quietLink } from '../../look/buttons.ts';
import { dayShown, money, moneyText } from '../../look/figures.ts';
import { type Html, html } from '../../look/html.ts';
import { statusWord } from '../../look/notices.ts';
import { dataTable, emptyState } from '../../look/tables.ts';

/** `base` is the account’s address where something may be changed; null where it is only shown. */
export function standingApprovalsTable(
  approvals: readonly StandingApprovalView[],
  currency: string,
  base: string | null,
): Html {
  const limit = (minor: bigint | null) => (minor === null ? 'no limit' : money(minor, currency));
  return dataTable({
    caption: 'Standing approvals',
    captionHidden: true,
    rows: approvals,
    empty: emptyState('Nothing agreed beforehand', 'Every estimate waits for somebody of the account.'),
    columns: [
      {
        header: 'Agreed by',
        names: true,
        cell: (each) => html`<span class="long-name">${each.note}</span>`,
      },
      { header: 'A vehicle', figure: true, cell: (each) => limit(each.perVehicleMinor) },
      { header: 'A visit', figure: true, cell: (each) => limit(each.perVisitMinor) },
      { header: 'A month', figure: true, cell: (each) => limit(each.perMonthMinor) },
      { header: 'From', cell: (each) => dayShown(each.validFrom) },
      { header: 'To', cell: (each) => (each.validTo === null ? 'no end' : dayShown(each.validTo)) },
      { header: 'Today', cell: (each) => approvalStanding(each, base) },
    ],
  });
}

function approvalStanding(approval: StandingApprovalView, base: string | null): Html {
  const mayEnd = base !== null && (approval.standing === 'in_force' || approval.standing === 'not_yet');
  return html`${standingWords[approval.standing]}${
    mayEnd &&
    html`<br>${quietLink({ label: 'End it', href: `${base}/standing-approvals/${approval.id}/end` })}`
  }`;
}

const standingWords = {
  not_yet: statusWord('waiting', 'Not yet'),
  in_force: statusWord('settled', 'In force'),
  ended: statusWord('stopped', 'Ended'),
  taken_back: statusWord('stopped', 'Taken back'),
} as const;

export function purchaseOrdersTable(
  orders: readonly PurchaseOrderView[],
  currency: string,
  base: string | null,
): Html {
  return dataTable({
    caption: 'Purchase orders',
    captionHidden: true,
    rows: orders,
    empty: emptyState('No purchase order', 'A number without one here has no cap.'),
    columns: [
      {
        header: 'Number',
        names: true,
        cell: (each) => html`<span class="code long-name">${each.number}</span>`,
      },
      { header: 'Note', cell: (each) => each.note },
      { header: 'From', cell: (each) => dayShown(each.validFrom) },
      { header: 'To', cell: (each) => (each.validTo === null ? 'no end' : dayShown(each.validTo)) },
      { header: 'Today', cell: (each) => orderStanding(each, base) },
      {
        header: 'Cap',
        figure: true,
        cell: (each) => (each.capMinor === null ? 'no cap' : money(each.capMinor, currency)),
      },
      { header: 'Invoiced', figure: true, cell: (each) => money(each.invoicedMinor, currency) },
      { header: 'Left', figure: true, cell: (each) => leftShown(each, currency) },
    ],
  });
}

/** What is left of a cap, or by how much it was gone over; nothing where there is no cap. */
export function leftShown(
  { leftMinor }: Pick<PurchaseOrderView, 'leftMinor'>,
  currency: string,
): Html | string {
  if (leftMinor === null) return '';
  if (leftMinor >= 0n) return money(leftMinor, currency);
  return statusWord('problem', `${moneyText(-leftMinor, currency)} over`);
}

function orderStanding(order: PurchaseOrderView, base: string | null): Html {
  return html`${orderWords[order.standing]}${
    base !== null &&
    html`<br>${quietLink({ label: 'Change', href: `${base}/purchase-orders/${order.id}/change` })}`
  }`;
}

const orderWords = {
  not_yet: statusWord('waiting', 'Not yet'),
  valid: statusWord('settled', 'Valid'),
  ended: statusWord('problem', 'Ended'),
} as const;
