import { findCreditNote, findInvoice, listCreditNotes } from '@grainwright/db';
import { type CreditNoteModel, creditNotePdf, dayWords, moneyWords } from '@grainwright/documents';
import { type CreditNoteId, ok, type Result, refuse, sumMinor } from '@grainwright/domain';
import { toObjectKey } from '@grainwright/evidence';
import { type CreditNoteView, creditNoteViewOf } from '../billing/credit-note-view.ts';
import { type InvoiceView, invoiceViewOf } from '../billing/invoice-view.ts';
import { type Actor, perform, type Scope } from '../perform.ts';
import type { Services } from '../services.ts';
import { readBytes } from '../stored-bytes.ts';
import type { OpenedFile } from './opened-file.ts';
import { partyLines } from './party-lines.ts';

/** A credit note as PDF; for a contact only of the own account. */
export async function openCreditNotePdf(
  services: Services,
  actor: Actor,
  id: CreditNoteId,
): Promise<Result<OpenedFile>> {
  const read = await perform(services, actor, 'see_invoices', (scope) => readPrinted(scope, id));
  if (!read.ok) return read;
  const { note, invoice, business, creditedBeforeMinor } = read.value;
  const { logoKey } = business;
  const logo = logoKey === null ? null : await readBytes(services.objects, toObjectKey(logoKey));
  const body = await creditNotePdf({
    ...noteModel(note, invoice),
    size: business.pageSize,
    seller: { name: note.seller.name, lines: partyLines(note.seller), logo },
    explanation: explanationOf(note, invoice, creditedBeforeMinor),
    note: invoice.seller.note,
  });
  return ok({ fileName: `${note.number}.pdf`, mediaType: 'application/pdf', body });
}

interface Printed {
  readonly note: CreditNoteView;
  readonly invoice: InvoiceView;
  readonly business: Scope['business'];
  readonly creditedBeforeMinor: bigint;
}

/** More credit notes on one invoice than anybody writes. */
const notesMax = 200;

async function readPrinted(scope: Scope, id: CreditNoteId): Promise<Result<Printed>> {
  const { tx, actor, business } = scope;
  const found = await findCreditNote(tx, id);
  if (found === null || (actor.accountId !== null && found.accountId !== actor.accountId))
    return refuse('not_found', 'There is no such credit note.');
  const invoice = await findInvoice(tx, found.invoiceId);
  if (invoice === null) throw new Error('a credit note without its invoice');
  const { invoiceId, sequence: past } = found;
  const earlier = await listCreditNotes(tx, { accountId: null, invoiceId, past, limit: notesMax });
  return ok({
    note: await creditNoteViewOf(scope, id),
    invoice: await invoiceViewOf(scope, invoice),
    business,
    creditedBeforeMinor: sumMinor(earlier.map((each) => each.totalMinor)),
  });
}

function noteModel(
  note: CreditNoteView,
  invoice: InvoiceView,
): Omit<CreditNoteModel, 'size' | 'seller' | 'explanation' | 'note'> {
  const codes = new Map(
    [...invoice.vehicles.flatMap((vehicle) => vehicle.lines), ...invoice.charges].flatMap((line) =>
      line.lineId === null ? [] : [[line.lineId, line.code] as const],
    ),
  );
  const vehicles = new Map(invoice.vehicles.map((vehicle) => [vehicle.workOrderId, vehicle.vehicle]));
  return {
    buyer: { name: note.buyer.name, lines: partyLines(note.buyer) },
    number: note.number,
    issuedOn: note.issuedOn,
    invoice: { number: invoice.number, issuedOn: invoice.issuedOn },
    currency: note.currency,
    reason: note.reason,
    lines: note.lines.map(({ lineId, workOrderId, description, netMinor }) => ({
      code: (lineId === null ? undefined : codes.get(lineId)) ?? '',
      description,
      vehicle: (workOrderId === null ? undefined : vehicles.get(workOrderId)) ?? '',
      netMinor,
    })),
    taxes: note.taxes,
    netMinor: note.netMinor,
    taxMinor: note.taxMinor,
    totalMinor: note.totalMinor,
  };
}

/** How it was reckoned: what stood before, less what the invoice comes to with only this changed. */
function explanationOf(note: CreditNoteView, invoice: InvoiceView, creditedBeforeMinor: bigint): string {
  const money = (amountMinor: bigint) => moneyWords(amountMinor, note.currency);
  const beforeMinor = invoice.totalMinor - creditedBeforeMinor;
  const credited =
    creditedBeforeMinor === 0n ? '' : `, of which ${money(creditedBeforeMinor)} was credited before`;
  return `${invoice.number} of ${dayWords(invoice.issuedOn)} was issued at ${money(invoice.totalMinor)}${credited}. Computed again with only this changed, it comes to ${money(beforeMinor - note.totalMinor)}. The difference, ${money(note.totalMinor)}, is this credit.`;
}
