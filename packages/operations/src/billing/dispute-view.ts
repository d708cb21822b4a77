import type { FoundDispute } from '@grainwright/db';
import {
  type AccountId,
  type CreditNoteId,
  type Day,
  type DisputeAnswer,
  type DisputeId,
  type DisputeReason,
  daysBetween,
  type InvoiceId,
  type LineId,
} from '@grainwright/domain';
import type { Scope } from '../perform.ts';

/** A part of an invoice that is not agreed with. Amounts are minor units of `currency`. */
export interface DisputeView {
  readonly id: DisputeId;
  readonly accountId: AccountId;
  readonly accountName: string;
  readonly invoiceId: InvoiceId;
  readonly invoiceNumber: string;
  readonly currency: string;
  readonly lineId: LineId | null;
  /** The line as the invoice prints it; null where it is about none. */
  readonly lineDescription: string | null;
  readonly amountMinor: bigint;
  readonly reason: DisputeReason;
  readonly note: string;
  readonly openedOn: Day;
  /** True when somebody of the account opened it. */
  readonly byContact: boolean;
  readonly openedByName: string;
  /** How long it has waited, or did until it was answered or its invoice was voided. */
  readonly days: number;
  /** Null while the invoice stands; a void one leaves nothing to answer. */
  readonly voidedOn: Day | null;
  readonly answer: {
    readonly answer: DisputeAnswer;
    readonly note: string;
    readonly answeredOn: Day;
    readonly creditNoteId: CreditNoteId | null;
    readonly creditNoteNumber: string | null;
  } | null;
}

export function disputeView({ today }: Pick<Scope, 'today'>, found: FoundDispute): DisputeView {
  const { id, accountId, accountName, invoiceId, invoiceNumber, currency, lineId, lineDescription } = found;
  const { amountMinor, reason, note, openedOn, byContact, openedByName, voidedOn, answer } = found;
  return {
    id,
    accountId,
    accountName,
    invoiceId,
    invoiceNumber,
    currency,
    lineId,
    lineDescription,
    amountMinor,
    reason,
    note,
    openedOn,
    byContact,
    openedByName,
    days: daysBetween(openedOn, answer?.answeredOn ?? voidedOn ?? today),
    voidedOn,
    answer: answer && {
      answer: answer.answer,
      note: answer.note,
      answeredOn: answer.answeredOn,
      creditNoteId: answer.creditNoteId,
      creditNoteNumber: answer.creditNoteNumber,
    },
  };
}
