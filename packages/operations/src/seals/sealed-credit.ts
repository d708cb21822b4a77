import { findCreditToSeal, type TenantTransaction } from '@grainwright/db';
import type { CreditNoteId, SealedCredit } from '@grainwright/domain';

/** A credit note as it was issued, and the invoice that it corrects. */
export async function sealedCredit(tx: TenantTransaction, id: CreditNoteId): Promise<SealedCredit> {
  const note = await findCreditToSeal(tx, id);
  if (note === null) throw new Error('there is no such credit note');
  return {
    format: 'sealed-credit-1',
    business: { name: note.businessName },
    account: { id: note.accountId, name: note.accountName },
    creditNote: {
      id,
      number: note.number,
      issuedOn: note.issuedOn,
      issuedAt: note.issuedAt,
      reason: note.reason,
    },
    invoice: {
      id: note.invoiceId,
      number: note.invoiceNumber,
      totalMinor: note.invoiceTotalMinor.toString(),
    },
    currency: note.currency,
    lines: note.lines.map(({ kind, workOrderId, lineId, description, netMinor }) => ({
      kind,
      workOrder: workOrderId,
      line: lineId,
      description,
      netMinor: netMinor.toString(),
    })),
    netMinor: note.netMinor.toString(),
    taxMinor: note.taxMinor.toString(),
    totalMinor: note.totalMinor.toString(),
  };
}
