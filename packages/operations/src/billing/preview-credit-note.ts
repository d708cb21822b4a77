import { findInvoice, listInvoiceLines } from '@grainwright/db';
import {
  type Day,
  type Decimal,
  type InvoiceId,
  type InvoiceLineKind,
  type LineId,
  lesserMinor,
  ok,
  type Result,
  refuse,
  type VisitId,
  type WorkOrderId,
} from '@grainwright/domain';
import { type Actor, performAsStaff } from '../perform.ts';
import type { Services } from '../services.ts';
import { computeCredit, type WantedCredit } from './compute-credit.ts';
import { descriptionOf } from './credit-note-document.ts';

export interface PreviewCreditNoteInput extends WantedCredit {
  readonly invoiceId: InvoiceId;
  readonly apply: boolean;
}

/** What a credit note would come to, line by line. Amounts are minor units of `currency`. */
export interface CreditPreview {
  readonly invoiceId: InvoiceId;
  readonly invoiceNumber: string;
  readonly currency: string;
  readonly issuedOn: Day;
  /** Every line of the invoice, before and after, with how what remains came about. */
  readonly lines: readonly {
    readonly kind: InvoiceLineKind;
    readonly lineId: LineId | null;
    readonly workOrderId: WorkOrderId | null;
    readonly visitId: VisitId;
    readonly description: string;
    readonly beforeMinor: bigint;
    readonly afterMinor: bigint;
    readonly creditMinor: bigint;
    readonly trail: string;
  }[];
  readonly taxes: readonly {
    readonly areaName: string;
    readonly component: string;
    readonly ratePercent: Decimal;
    readonly beforeMinor: bigint;
    readonly afterMinor: bigint;
    readonly creditMinor: bigint;
  }[];
  readonly netMinor: bigint;
  readonly taxMinor: bigint;
  readonly totalMinor: bigint;
  /** Of the total, what would settle the invoice at once, and what would stay account credit. */
  readonly appliedMinor: bigint;
  readonly leftMinor: bigint;
  readonly openAfterMinor: bigint;
}

/** Shows what a credit note would come to. The same input refuses as `issueCreditNote` does, but for a closed month. */
export function previewCreditNote(
  services: Services,
  actor: Actor,
  input: PreviewCreditNoteInput,
): Promise<Result<CreditPreview>> {
  return performAsStaff(services, actor, 'issue_credit_note', async (scope) => {
    const invoice = await findInvoice(scope.tx, input.invoiceId);
    if (invoice === null) return refuse('not_found', 'There is no such invoice.');
    const computed = await computeCredit(scope, invoice, input);
    if (!computed.ok) return computed;
    const { credit, issuedOn } = computed.value;
    const printed = await listInvoiceLines(scope.tx, invoice.id);
    const { totalMinor } = credit;
    const { openMinor } = invoice;
    const appliedMinor = input.apply ? lesserMinor(totalMinor, openMinor) : 0n;
    return ok({
      invoiceId: invoice.id,
      invoiceNumber: invoice.number,
      currency: invoice.currency,
      issuedOn,
      lines: credit.compared.map((line) => ({
        kind: line.kind,
        lineId: line.lineId,
        workOrderId: line.workOrderId,
        visitId: line.visitId,
        description: descriptionOf(line, printed),
        beforeMinor: line.beforeMinor,
        afterMinor: line.afterMinor,
        creditMinor: line.netMinor,
        trail: line.trail,
      })),
      taxes: credit.taxes.map(
        ({ areaName, component, ratePercent, beforeMinor, afterMinor, amountMinor }) => ({
          areaName,
          component,
          ratePercent,
          beforeMinor,
          afterMinor,
          creditMinor: amountMinor,
        }),
      ),
      netMinor: credit.netMinor,
      taxMinor: credit.taxMinor,
      totalMinor,
      appliedMinor,
      leftMinor: totalMinor - appliedMinor,
      openAfterMinor: openMinor - appliedMinor,
    });
  });
}
