import type { PurchaseOrderView, StandingApprovalView } from '@grainwright/operations';
import { type Html, html } from '../../../look/html.ts';
import { accountPage } from '../../../look/layout.ts';
import type { Frame } from '../../person.ts';
import { purchaseOrdersTable, standingApprovalsTable } from '../../work-order/agreement-tables.ts';

export interface AgreementPage {
  readonly frame: Frame;
  readonly approvals: readonly StandingApprovalView[];
  readonly orders: readonly PurchaseOrderView[];
  readonly currency: string;
}

/** What the account agreed to beforehand, and what is left of its purchase orders. */
export function agreementView({ frame, approvals, orders, currency }: AgreementPage): Html {
  const business = frame.me.business.name;
  return accountPage({
    title: 'Agreed beforehand',
    heading: 'Agreed beforehand',
    lead: `What ${business} may do without asking you, and your purchase orders. Ask ${business} to change either.`,
    person: frame.person,
    current: 'account',
    csrfToken: frame.csrfToken,
    assets: frame.assets,
    elsewhere: frame.elsewhere,
    body: html`<section><h2>Standing approvals</h2>
        <p>An estimate within every limit is approved when it is sent. Compared are repairs with their minimum and
        after-hours, before trip and tax; above a limit you are asked. What a visit adds to reach
        its minimum is not compared either.</p>
        ${standingApprovalsTable(approvals, currency, null)}</section>
      <section><h2>Purchase orders</h2>
        <p>A cap holds over all invoices that carry the number, with tax and less credits.</p>
        ${purchaseOrdersTable(orders, currency, null)}</section>`,
  });
}
