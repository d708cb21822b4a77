import { formatDecimal } from '@grainwright/domain';
import type { CreditNoteView } from '@grainwright/operations';
import { documentSheet, sums } from '../../look/document-sheet.ts';
import { dayShown, dayText, money, moneyText } from '../../look/figures.ts';
import { type Html, html } from '../../look/html.ts';
import { dataTable } from '../../look/tables.ts';
import { sheetParty } from './invoice-sheet.ts';

/** A credit note as a sheet to keep or print; `base` is where its invoices are for whoever looks. */
export function creditNoteSheet(note: CreditNoteView, base: string, logo?: string): Html {
  const { currency } = note;
  return documentSheet({
    kind: 'Credit note',
    number: note.number,
    business: sheetParty(note.seller),
    logo,
    to: sheetParty(note.buyer),
    facts: [
      { term: 'Date', value: dayShown(note.issuedOn) },
      { term: 'On invoice', value: html`<a href="${base}/${note.invoiceId}">${note.invoiceNumber}</a>` },
      { term: 'Reason', value: note.reason },
    ],
    body: html`
      ${dataTable({
        caption: 'Credited',
        captionHidden: true,
        columns: [
          { header: 'Line', names: true, cell: (line) => line.description },
          { header: 'Labor', figure: true, cell: (line) => money(line.laborMinor, currency) },
          { header: 'Materials', figure: true, cell: (line) => money(line.materialsMinor, currency) },
          { header: 'Credit', figure: true, cell: (line) => money(line.netMinor, currency) },
        ],
        rows: note.lines,
        empty: html`<p>No line changes; the credit is of tax alone.</p>`,
      })}
      ${sums([
        { term: 'Before tax', value: money(note.netMinor, currency) },
        ...note.taxes.map((tax) => ({
          term: `${tax.areaName} ${tax.component.toLowerCase()} tax, ${formatDecimal(tax.ratePercent)} %, on ${moneyText(tax.baseMinor, currency)} less`,
          value: money(tax.taxMinor, currency),
        })),
        { term: 'Credit', value: money(note.totalMinor, currency) },
        ...note.applications.map((each) => ({
          term: `Applied to ${each.invoiceNumber} ${dayText(each.appliedOn)}`,
          value: money(-each.amountMinor, currency),
        })),
        { term: 'Left', value: money(note.unappliedMinor, currency) },
      ])}`,
    closing:
      note.unappliedMinor === 0n
        ? html`<p><b>Applied in full.</b></p>`
        : html`<p><b>${money(note.unappliedMinor, currency)}</b> stays as credit of the account.</p>`,
  });
}
