import type { InvoiceView } from '@grainwright/operations';
import { type Html, html } from '../../look/html.ts';
import { workOrderNumber } from '../work-order/state-words.ts';

/** The evidence of every vehicle on an invoice, for whoever checks it before paying; nothing where no work is billed. */
export function invoiceEvidence({ vehicles }: InvoiceView, area: 'office' | 'account'): Html | null {
  if (vehicles.length === 0) return null;
  return html`<section class="unprinted"><h2>Evidence</h2>
    <ul>${vehicles.map(({ workOrderId, workOrderNumber: number, vehicle }) => {
      const place = `/${area}/work-orders/${workOrderId}`;
      return html`<li>${vehicle}: <a href="${`${place}/evidence.pdf`}">${workOrderNumber(number)} as PDF</a>,
        <a href="${`${place}/evidence.zip`}">pack of ${workOrderNumber(number)}, ZIP</a></li>`;
    })}</ul></section>`;
}
