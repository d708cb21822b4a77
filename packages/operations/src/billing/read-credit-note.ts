import { findCreditNote } from '@grainwright/db';
import { type CreditNoteId, ok, type Result, refuse } from '@grainwright/domain';
import { type Actor, perform } from '../perform.ts';
import type { Services } from '../services.ts';
import { type CreditNoteView, creditNoteViewOf } from './credit-note-view.ts';

/** One credit note; for a contact only of the own account. */
export function readCreditNote(
  services: Services,
  actor: Actor,
  id: CreditNoteId,
): Promise<Result<CreditNoteView>> {
  return perform(services, actor, 'see_invoices', async (scope) => {
    const found = await findCreditNote(scope.tx, id);
    if (found === null || (actor.accountId !== null && found.accountId !== actor.accountId))
      return refuse('not_found', 'There is no such credit note.');
    return ok(await creditNoteViewOf(scope, id));
  });
}
