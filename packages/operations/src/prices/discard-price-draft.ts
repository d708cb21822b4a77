import { ok, type PriceDraftId, type Result } from '@grainwright/domain';
import { type Actor, performAsStaff } from '../perform.ts';
import type { Services } from '../services.ts';
import { type EndPriceDraftInput, end, lockToEnd } from './end-draft.ts';

/** Lays a draft aside for good. Refuses with `shown_changed` where it was changed meanwhile. The owner's to do. */
export function discardPriceDraft(
  services: Services,
  actor: Actor,
  input: EndPriceDraftInput,
): Promise<Result<{ id: PriceDraftId }>> {
  return performAsStaff(services, actor, 'change_price_book', async (scope) => {
    const draft = await lockToEnd(scope, input, 'discarded');
    if (!draft.ok) return draft;
    if (draft.value === null) return ok({ id: input.draftId });
    const { id, name } = draft.value;
    return end(scope, id, { state: 'discarded', action: 'price_draft_discarded', detail: { name } });
  });
}
