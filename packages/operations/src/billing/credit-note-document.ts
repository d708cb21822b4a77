import type { FoundInvoice, InvoiceLineRow, NewCreditNote } from '@grainwright/db';
import type { Credit, CreditLine, CreditNoteId, Day, IssuedCreditNote, JsonValue } from '@grainwright/domain';
import type { Scope } from '../perform.ts';
import { toStoredJson } from '../stored-json.ts';

export interface CreditNoteParts {
  readonly id: CreditNoteId;
  readonly sequence: bigint;
  readonly invoice: FoundInvoice;
  /** The lines of the invoice, for how it describes them. */
  readonly invoiceLines: readonly InvoiceLineRow[];
  readonly credit: Credit;
  readonly reason: string;
  readonly issuedOn: Day;
  readonly asked: JsonValue;
}

/** The credit note as it is stored. Both parties are as the invoice names them. */
export function creditNoteDocument(scope: Scope, parts: CreditNoteParts): NewCreditNote {
  const { invoice, credit, sequence } = parts;
  return {
    note: {
      id: parts.id,
      sequence,
      number: `${scope.business.creditNotePrefix}${sequence.toString().padStart(4, '0')}`,
      accountId: invoice.accountId,
      invoiceId: invoice.id,
      issuedOn: parts.issuedOn,
      currency: invoice.currency,
      reason: parts.reason,
      seller: invoice.seller,
      buyer: invoice.buyer,
      remaining: toStoredJson(credit.remaining),
      asked: parts.asked,
      netMinor: credit.netMinor,
      taxMinor: credit.taxMinor,
      totalMinor: credit.totalMinor,
      issuedBy: scope.actor.personId,
      issuedAt: scope.now,
    },
    lines: credit.lines.map((line, index) => ({
      position: index + 1,
      kind: line.kind,
      workOrderId: line.workOrderId,
      lineId: line.lineId,
      description: descriptionOf(line, parts.invoiceLines),
      netMinor: line.netMinor,
      laborMinor: line.byClass.labor,
      materialsMinor: line.byClass.materials,
    })),
    taxes: credit.taxes.map((tax, index) => ({
      position: index + 1,
      areaCode: tax.areaCode,
      areaName: tax.areaName,
      component: tax.component,
      ratePercent: tax.ratePercent,
      baseMinor: tax.baseMinor,
      taxMinor: tax.amountMinor,
    })),
    taxBases: credit.taxBases,
  };
}

/** What the credit note posts: what it takes back by class, its tax by place and component. */
export function creditNotePosting({ id, invoice, credit, issuedOn }: CreditNoteParts): IssuedCreditNote {
  const { byClass } = credit;
  return {
    creditNoteId: id,
    invoiceId: invoice.id,
    party: invoice.accountId,
    on: issuedOn,
    laborMinor: byClass.labor,
    materialsMinor: byClass.materials,
    tripMinor: byClass.trip,
    feeMinor: byClass.fee,
    taxes: credit.taxes,
  };
}

/** A line in the invoice's own words. */
export function descriptionOf(line: CreditLine, printed: readonly InvoiceLineRow[]): string {
  const held =
    line.lineId === null ? undefined : printed.find((each) => each.lineId === line.lineId)?.description;
  return held ?? line.label;
}
