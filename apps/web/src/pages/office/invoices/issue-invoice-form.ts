import type { WorkOrderView } from '@grainwright/operations';
import { actionButton } from '../../../look/buttons.ts';
import { hiddenCsrf, hiddenField } from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';

/**
 * Issues the invoice of one work order, from its own page. `invoiceId` is made when the page is: pressing twice
 * makes one invoice.
 */
export function issueInvoiceForm(form: {
  readonly workOrder: Pick<WorkOrderView, 'id'>;
  readonly invoiceId: string;
  readonly csrfToken: string;
}): Html {
  return html`<form method="post" action="/office/invoices">
    ${hiddenCsrf(form.csrfToken)}
    ${hiddenField('invoice_id', form.invoiceId)}
    ${hiddenField('work_order_ids', form.workOrder.id)}
    ${actionButton({ label: 'Issue the invoice' })}
  </form>`;
}
