import { type DisputeId, type InvoiceId, isUuid, type LineId, toId } from '@grainwright/domain';
import type { OpenDisputeInput } from '@grainwright/operations';
import type { FormValues } from '../../plugins/forms.ts';

/** What the form of a dispute asks for; `fallbackId` where it came without an id of its own. */
export function disputeFromForm(
  form: FormValues,
  invoiceId: InvoiceId,
  fallbackId: string,
  dated: boolean,
): OpenDisputeInput {
  const sent = form.text('dispute_id');
  const line = form.text('line_id');
  return {
    disputeId: toId<DisputeId>(isUuid(sent) ? sent : fallbackId),
    invoiceId,
    lineId: isUuid(line) ? toId<LineId>(line) : null,
    amount: form.text('amount'),
    reason: form.text('reason'),
    note: form.text('note'),
    on: dated ? form.text('on') : null,
  };
}
