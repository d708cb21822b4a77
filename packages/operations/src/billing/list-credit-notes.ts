import { findAccountName, listCreditNotes as listCreditNoteRows } from '@grainwright/db';
import { type AccountId, type InvoiceId, ok, type Result, refuse } from '@grainwright/domain';
import { type Actor, perform } from '../perform.ts';
import type { Services } from '../services.ts';
import { type CreditNoteRowView, creditNoteRowView } from './credit-note-view.ts';

export interface ListCreditNotesInput {
  /** Null: of every account. A contact sees the own account's whatever stands here. */
  readonly accountId: AccountId | null;
  /** Only those on this invoice. */
  readonly invoiceId?: InvoiceId;
  /** The sequence that the page before ended with; null for the first page. */
  readonly past: bigint | null;
}

export interface CreditNoteList {
  readonly accountName: string | null;
  readonly rows: readonly CreditNoteRowView[];
  /** Where the next page goes on; null when this is the last. */
  readonly next: bigint | null;
}

const rowsOfAPage = 100;

/** Credit notes, newest first. */
export function listCreditNotes(
  services: Services,
  actor: Actor,
  input: ListCreditNotesInput,
): Promise<Result<CreditNoteList>> {
  return perform(services, actor, 'see_invoices', async ({ tx }) => {
    const accountId = actor.accountId ?? input.accountId;
    const accountName = accountId === null ? null : await findAccountName(tx, accountId);
    if (accountId !== null && accountName === null) return refuse('not_found', 'There is no such account.');
    const found = await listCreditNoteRows(tx, {
      accountId,
      invoiceId: input.invoiceId ?? null,
      past: input.past,
      limit: rowsOfAPage + 1,
    });
    const rows = found.slice(0, rowsOfAPage).map(creditNoteRowView);
    const next = found.length > rowsOfAPage ? (rows.at(-1)?.sequence ?? null) : null;
    return ok({ accountName, rows, next });
  });
}
