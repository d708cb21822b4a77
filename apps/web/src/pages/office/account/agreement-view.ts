import { allows } from '@grainwright/domain';
import type { AccountView } from '@grainwright/operations';
import { quietLink } from '../../../look/buttons.ts';
import { type Html, html } from '../../../look/html.ts';
import { delegationTable } from '../../delegations/delegation-table.ts';
import type { Frame } from '../../person.ts';
import { purchaseOrdersTable, standingApprovalsTable } from '../../work-order/agreement-tables.ts';

/** What an account agreed to beforehand, and its purchase orders. `base` is its address; null where nothing may be changed. */
export function agreements(frame: Frame, view: AccountView, base: string | null): Html {
  const seesOrders = allows(frame.me.role, 'see_invoices');
  return html`<section>
      ${partHead('Standing approvals', base !== null && quietLink({ label: 'Set a standing approval', href: `${base}/standing-approvals/new` }))}
      ${standingApprovalsTable(view.standingApprovals, view.currency, base)}
    </section>
    <section>
      ${partHead('While an approver is away', base !== null && quietLink({ label: 'Write down a delegate', href: `${base}/delegations/new` }))}
      ${delegationTable({
        frame,
        delegations: view.delegations,
        currency: view.currency,
        base: `/office/accounts/${view.account.id}/delegations`,
        mayEnd: () => base !== null,
      })}
    </section>
    ${
      seesOrders &&
      html`<section>
      ${partHead('Purchase orders', base !== null && quietLink({ label: 'File a purchase order', href: `${base}/purchase-orders/new` }))}
      ${purchaseOrdersTable(view.purchaseOrders, view.currency, base)}
    </section>`
    }`;
}

/** A heading of a part, with what can be added to it beside. */
function partHead(heading: string, add: Html | false): Html {
  return html`<div class="page-head"><h2>${heading}</h2>${add && html`<div class="page-beside">${add}</div>`}</div>`;
}
