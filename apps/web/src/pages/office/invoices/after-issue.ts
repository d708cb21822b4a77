import { allows, type Permission } from '@grainwright/domain';
import type { InvoiceView } from '@grainwright/operations';
import { quietLink } from '../../../look/buttons.ts';
import { dayText, moneyText } from '../../../look/figures.ts';
import { type Html, html } from '../../../look/html.ts';
import { emptyState } from '../../../look/tables.ts';
import { disputeTable } from '../../billing/dispute-table.ts';
import type { Frame } from '../../person.ts';
import { handPriceWords } from '../../work-order/price-parts.ts';

/** What happened to an invoice besides payments, and what the person may do to it. */
export function afterIssue(frame: Frame, invoice: InvoiceView): Html {
  const { creditedBy, disputes, voidedOn, voidReason } = invoice;
  const links = endings(frame, invoice);
  return html`${voidedOn !== null && html`<p>Voided ${dayText(voidedOn)}: ${voidReason}</p>`}
    ${pricedByHand(invoice)}
    ${
      creditedBy.length > 0 &&
      html`<section><h2>Credit notes</h2><ul>${creditedBy.map(
        (each) =>
          html`<li><a href="${`/office/credit-notes/${each.creditNoteId}`}">${each.number}</a>, ${moneyText(each.amountMinor, invoice.currency)} applied ${dayText(each.appliedOn)}</li>`,
      )}</ul></section>`
    }
    ${
      disputes.length > 0 &&
      html`<section><h2>Disputes</h2>${disputeTable({
        caption: `Disputes on ${invoice.number}`,
        rows: disputes,
        base: '/office/disputes',
        columns: [],
        empty: emptyState('Nothing is in dispute', 'All of it is agreed.'),
      })}</section>`
    }
    ${links.length > 0 && html`<nav class="buttons" aria-label="${`What can be done to ${invoice.number}`}">${links}</nav>`}`;
}

/** Apart from the document, which is the account’s too. */
function pricedByHand({ handPrices, vehicles }: InvoiceView): Html | null {
  if (handPrices.length === 0) return null;
  const lines = vehicles.flatMap((vehicle) => vehicle.lines);
  return html`<section class="unprinted"><h2>Prices by hand</h2><ul>${handPrices.map((price) => {
    const line = lines.find(({ lineId }) => lineId === price.lineId);
    return html`<li>${line?.description ?? 'A line'}. ${handPriceWords(price)}</li>`;
  })}</ul><p class="hint">The account does not see this.</p></section>`;
}

function endings({ me }: Frame, invoice: InvoiceView): readonly Html[] {
  const { id, voidedOn, openMinor, totalMinor, workedOn, disputedMinor, creditedBy, letGo } = invoice;
  if (voidedOn !== null) return [];
  const may = (permission: Permission) => allows(me.role, permission);
  const link = (label: string, path: string) => quietLink({ label, href: `/office/invoices/${id}/${path}` });
  const billsWork = workedOn !== null;
  return [
    ...(billsWork && may('issue_credit_note') ? [link('Credit it', 'credit')] : []),
    ...(disputedMinor < openMinor && may('dispute_invoice') ? [link('Note a dispute', 'dispute')] : []),
    ...(openMinor > 0n && may('write_off') ? [link('Write off or discount', 'write-off')] : []),
    ...letGo.flatMap(({ writeOffId, amountMinor }) =>
      writeOffId !== null && may('write_off')
        ? [link(`Recover ${moneyText(amountMinor, invoice.currency)}`, `recover/${writeOffId}`)]
        : [],
    ),
    ...(billsWork && openMinor === totalMinor && creditedBy.length === 0 && may('void_invoice')
      ? [link('Void it', 'void')]
      : []),
  ];
}
