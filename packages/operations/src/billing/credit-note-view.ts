import {
  type FoundCreditNote,
  findCreditNote,
  listApplicationsOfCreditNote,
  listCreditNoteLines,
  listCreditNoteTaxes,
} from '@grainwright/db';
import type {
  AccountId,
  ApplicationId,
  CreditNoteId,
  Day,
  Decimal,
  InvoiceId,
  InvoiceLineKind,
  LineId,
  WorkOrderId,
} from '@grainwright/domain';
import type { Scope } from '../perform.ts';
import { fromStoredJson } from '../stored-json.ts';
import type { PartySnapshot } from './invoice-document.ts';

/** Where a credit note stands. Amounts are above zero and minor units of `currency`. */
export interface CreditNoteRowView {
  readonly id: CreditNoteId;
  readonly number: string;
  /** Its place in the running numbers; lists go on before it. */
  readonly sequence: bigint;
  readonly accountId: AccountId;
  readonly accountName: string;
  readonly invoiceId: InvoiceId;
  readonly invoiceNumber: string;
  readonly issuedOn: Day;
  readonly currency: string;
  readonly reason: string;
  readonly netMinor: bigint;
  readonly taxMinor: bigint;
  readonly totalMinor: bigint;
  /** What settles nothing yet: account credit. */
  readonly unappliedMinor: bigint;
}

/** A credit note with everything printed on it. */
export interface CreditNoteView extends CreditNoteRowView {
  readonly seller: PartySnapshot;
  readonly buyer: PartySnapshot;
  readonly lines: readonly {
    readonly kind: InvoiceLineKind;
    readonly workOrderId: WorkOrderId | null;
    readonly lineId: LineId | null;
    readonly description: string;
    readonly netMinor: bigint;
    readonly laborMinor: bigint;
    readonly materialsMinor: bigint;
  }[];
  readonly taxes: readonly {
    readonly areaCode: string;
    readonly areaName: string;
    readonly component: string;
    readonly ratePercent: Decimal;
    readonly baseMinor: bigint;
    readonly taxMinor: bigint;
  }[];
  readonly applications: readonly {
    readonly id: ApplicationId;
    readonly invoiceId: InvoiceId;
    readonly invoiceNumber: string;
    readonly amountMinor: bigint;
    readonly appliedOn: Day;
  }[];
}

export function creditNoteRowView(found: FoundCreditNote): CreditNoteRowView {
  const { id, number, sequence, accountId, accountName, invoiceId, invoiceNumber, issuedOn } = found;
  const { currency, reason, netMinor, taxMinor, totalMinor, unappliedMinor } = found;
  return {
    id,
    number,
    sequence,
    accountId,
    accountName,
    invoiceId,
    invoiceNumber,
    issuedOn,
    currency,
    reason,
    netMinor,
    taxMinor,
    totalMinor,
    unappliedMinor,
  };
}

export async function creditNoteViewOf({ tx }: Scope, id: CreditNoteId): Promise<CreditNoteView> {
  const found = await findCreditNote(tx, id);
  if (found === null) throw new Error('a credit note that was just there is gone');
  const lines = await listCreditNoteLines(tx, id);
  const taxes = await listCreditNoteTaxes(tx, id);
  const applications = await listApplicationsOfCreditNote(tx, id);
  return {
    ...creditNoteRowView(found),
    seller: fromStoredJson<PartySnapshot>(found.seller),
    buyer: fromStoredJson<PartySnapshot>(found.buyer),
    lines: lines.map(({ kind, workOrderId, lineId, description, netMinor, laborMinor, materialsMinor }) => ({
      kind,
      workOrderId,
      lineId,
      description,
      netMinor,
      laborMinor,
      materialsMinor,
    })),
    taxes: taxes.map(({ areaCode, areaName, component, ratePercent, baseMinor, taxMinor }) => ({
      areaCode,
      areaName,
      component,
      ratePercent,
      baseMinor,
      taxMinor,
    })),
    applications: applications.map(
      ({ id: applicationId, invoiceId, invoiceNumber, amountMinor, appliedOn }) => ({
        id: applicationId,
        invoiceId,
        invoiceNumber,
        amountMinor,
        appliedOn,
      }),
    ),
  };
}
