import { findWriteOff, insertRecovery, listWriteOffTaxes } from '@grainwright/db';
import { dayWords, formatMinor, type Result, recovered, refuse, type WriteOffId } from '@grainwright/domain';
import { type Actor, performAsStaff, record } from '../perform.ts';
import { readWords } from '../read-input.ts';
import type { Services } from '../services.ts';
import type { InvoiceView } from './invoice-view.ts';
import { openInvoice } from './open-invoice.ts';
import { postEntries } from './post-entries.ts';
import { readEventDay } from './read-event-day.ts';
import { readInvoiceOf } from './read-invoice.ts';
import { reopenInvoices } from './settle-invoices.ts';

export interface RecoverWriteOffInput {
  readonly writeOffId: WriteOffId;
  readonly reason: string;
  /** Null: today. */
  readonly on: string | null;
}

/**
 * Turns a write-off round whole: it is owed again, tax taken back is payable again, and work that was written off or
 * paid by it is invoiced. Doing it again with the same reason changes nothing. Refuses with `wrong_state`,
 * `dates_out_of_order`, `month_closed`.
 */
export function recoverWriteOff(
  services: Services,
  actor: Actor,
  input: RecoverWriteOffInput,
): Promise<Result<InvoiceView>> {
  return performAsStaff(services, actor, 'write_off', async (scope) => {
    const { tx } = scope;
    const first = await findWriteOff(tx, input.writeOffId);
    if (first === null) return refuse('not_found', 'There is no such write-off.');
    const opened = await openInvoice(scope, first.invoiceId);
    if (!opened.ok) return opened;
    const { invoice, locked } = opened.value;
    const reason = readWords(input.reason, 'reason', 'why it is owed again', 500);
    if (!reason.ok) return reason;
    const since = { day: first.writtenOffOn, what: 'The write-off' };
    const on = readEventDay(scope, input.on, since, 'on');
    if (!on.ok) return on;
    const { id: writeOffId, amountMinor, invoiceId } = first;
    const before = (await findWriteOff(tx, writeOffId))?.recovery ?? null;
    if (before !== null)
      return before.reason === reason.value
        ? readInvoiceOf(scope, invoiceId)
        : refuse(
            'wrong_state',
            `It was recovered on ${dayWords(before.recoveredOn)} already: ${before.reason}`,
          );
    const reopened = await reopenInvoices(scope, [{ invoice: locked, amountMinor }], { type: 'recovered' });
    if (!reopened.ok) return reopened;
    const by = { recoveredOn: on.value, recoveredBy: scope.actor.personId, recoveredAt: scope.now };
    if (!(await insertRecovery(tx, { writeOffId, reason: reason.value, ...by })))
      throw new Error('a write-off was recovered under the lock of its invoice');
    await record(
      scope,
      'write_off_recovered',
      { kind: 'invoice', id: invoiceId },
      { number: invoice.number, amount: formatMinor(amountMinor, invoice.currency), reason: reason.value },
    );
    const taxes = await listWriteOffTaxes(tx, writeOffId);
    const recovery = { party: invoice.accountId, on: on.value, invoiceId, amountMinor, taxes };
    const posted = await postEntries(scope, [recovered(recovery)], 'on');
    return posted.ok ? readInvoiceOf(scope, invoiceId) : posted;
  });
}
