import { formatMinor } from '@grainwright/domain';
import type { DisputeView } from '@grainwright/operations';
import type { z } from 'zod';
import type { disputeAnswer } from './schemas.ts';

export function answerDisputed(dispute: DisputeView): z.input<typeof disputeAnswer> {
  const { id, currency, reason, note, days, voidedOn, answer } = dispute;
  return {
    id,
    account_id: dispute.accountId,
    account_name: dispute.accountName,
    invoice_id: dispute.invoiceId,
    invoice_number: dispute.invoiceNumber,
    currency,
    line_id: dispute.lineId,
    line_description: dispute.lineDescription,
    amount: formatMinor(dispute.amountMinor, currency),
    reason,
    note,
    opened_on: dispute.openedOn,
    opened_by: dispute.openedByName,
    by_contact: dispute.byContact,
    days,
    invoice_voided_on: voidedOn,
    answer: answer && {
      answer: answer.answer,
      note: answer.note,
      answered_on: answer.answeredOn,
      credit_note_id: answer.creditNoteId,
      credit_note_number: answer.creditNoteNumber,
    },
  };
}
