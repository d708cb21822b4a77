import { listRateRows, lockPriceBook, updatePriceDraft } from '@grainwright/db';
import { ok, type PriceDraftId, type Result, refuse } from '@grainwright/domain';
import { type Actor, performAsStaff, record } from '../perform.ts';
import type { Services } from '../services.ts';
import { bookDigest, codesMovedSince, draftBase } from './draft-base.ts';
import type { EndPriceDraftInput } from './end-draft.ts';
import { checkRevision, lockOpenDraft } from './open-draft.ts';

export interface AcceptPriceBookChangesInput extends EndPriceDraftInput {
  /** The `book` of the draft as it was shown. */
  readonly book: string;
}

/**
 * Goes on with a draft though the price book was changed meanwhile: whoever asks has seen what stands there now. No row
 * of the draft changes, but its revision does: who looked before has not seen it. Refuses with `shown_changed` where the
 * price book is not the one that was shown. The owner's to do.
 */
export function acceptPriceBookChanges(
  services: Services,
  actor: Actor,
  input: AcceptPriceBookChangesInput,
): Promise<Result<{ id: PriceDraftId; revision: number }>> {
  return performAsStaff(services, actor, 'change_price_book', async (scope) => {
    const { tx, today } = scope;
    await lockPriceBook(tx);
    const draft = await lockOpenDraft(scope, input.draftId);
    if (!draft.ok) return draft;
    const { id, revision, countsFrom } = draft.value;
    const book = await listRateRows(tx);
    const moved = codesMovedSince(draft.value, book);
    if (moved.length === 0) return ok({ id, revision });
    const seen = checkRevision(draft.value, input.revision);
    if (!seen.ok) return seen;
    if (bookDigest(book, countsFrom) !== input.book) return refuse('shown_changed', changedAgain, 'book');
    const next = revision + 1;
    await updatePriceDraft(tx, id, { base: draftBase(book, today), revision: next });
    await record(scope, 'price_draft_went_on', { kind: 'price_draft', id }, { seen: moved });
    return ok({ id, revision: next });
  });
}

const changedAgain =
  'The price book changed again since this list was shown. Open the list, look at what stands there now, and then go on.';
