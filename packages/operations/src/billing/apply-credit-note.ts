import {
  findCreditApplication,
  findCreditNote,
  insertCreditApplication,
  lockCreditNoteBalance,
  reduceCreditNoteBalance,
} from '@grainwright/db';
import {
  type ApplicationId,
  type CreditNoteId,
  creditApplied,
  formatMinor,
  type InvoiceId,
  ok,
  parseMoney,
  type Result,
  refuse,
} from '@grainwright/domain';
import { type Actor, performAsStaff, record } from '../perform.ts';
import { sameContent } from '../same-content.ts';
import type { Services } from '../services.ts';
import { type CreditNoteView, creditNoteViewOf } from './credit-note-view.ts';
import { openInvoice, stands } from './open-invoice.ts';
import { postEntries } from './post-entries.ts';
import { settleInvoices } from './settle-invoices.ts';

export interface ApplyCreditNoteInput {
  /** Made by the client: the same id with the same content again is the same application. */
  readonly applicationId: ApplicationId;
  readonly creditNoteId: CreditNoteId;
  /** An invoice of the same account, not only the one credited. */
  readonly invoiceId: InvoiceId;
  readonly amount: string;
}

/**
 * Settles a part of an invoice with what a credit note has left, on the day it is done. Refuses with `over_payment`
 * what is more than is open of the invoice or left of the credit note.
 */
export function applyCreditNote(
  services: Services,
  actor: Actor,
  input: ApplyCreditNoteInput,
): Promise<Result<CreditNoteView>> {
  return performAsStaff(services, actor, 'record_payment', async (scope) => {
    const { tx, today } = scope;
    const { applicationId: id, creditNoteId, invoiceId } = input;
    const note = await findCreditNote(tx, creditNoteId);
    if (note === null) return refuse('not_found', 'There is no such credit note.');
    const amount = parseMoney(input.amount, { currency: note.currency, field: 'amount' });
    if (!amount.ok) return amount;
    const amountMinor = amount.value;
    const opened = await openInvoice(scope, invoiceId);
    if (!opened.ok || opened.value.invoice.accountId !== note.accountId)
      return refuse('not_found', `${note.accountName} has no such invoice.`, 'invoice_id');
    const before = await findCreditApplication(tx, id);
    if (before !== null)
      return sameContent(before, { creditNoteId, invoiceId, amountMinor })
        ? ok(await creditNoteViewOf(scope, creditNoteId))
        : refuse('id_reused', 'That id is another application already.', 'id');
    const { invoice, locked } = opened.value;
    const standing = stands(invoice);
    if (!standing.ok) return standing;
    const unappliedMinor = await lockCreditNoteBalance(tx, creditNoteId);
    const source = { unappliedMinor, currency: note.currency, receivedOn: note.issuedOn };
    const settled = await settleInvoices(
      scope,
      source,
      [{ invoice: locked, amountMinor, field: 'amount' }],
      today,
    );
    if (!settled.ok) return settled;
    if ((await reduceCreditNoteBalance(tx, creditNoteId, amountMinor)) === null)
      throw new Error('less is unapplied than was locked');
    const { accountId } = note;
    const by = { appliedOn: today, appliedBy: actor.personId, appliedAt: scope.now };
    if (!(await insertCreditApplication(tx, { id, accountId, creditNoteId, invoiceId, amountMinor, ...by })))
      return refuse('id_reused', 'That id is another application already.', 'id');
    await record(
      scope,
      'credit_note_applied',
      { kind: 'credit_note', id: creditNoteId },
      { invoice: invoice.number, amount: formatMinor(amountMinor, note.currency) },
    );
    const parts = [{ invoiceId, amountMinor }];
    const posted = await postEntries(scope, [
      creditApplied({ party: accountId, on: today, creditNoteId, parts }),
    ]);
    if (!posted.ok) return posted;
    return ok(await creditNoteViewOf(scope, creditNoteId));
  });
}
