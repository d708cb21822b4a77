import { listPriceDrafts, type NamedPriceDraft } from '@grainwright/db';
import { type Day, ok, type PriceDraftId, type Result } from '@grainwright/domain';
import { type Actor, performAsStaff } from '../perform.ts';
import type { Services } from '../services.ts';
import { loadPriceDraft, type PriceDraftView } from './open-draft.ts';

const draftsShown = 100;

export type PriceDraftEntry = Omit<NamedPriceDraft, 'base'>;

export interface PriceDraftList {
  readonly drafts: readonly PriceDraftEntry[];
  readonly timeZone: string;
  readonly today: Day;
}

/** Price lists in the making, and those that were put into force or discarded: the open ones first. The owner's. */
export function listDraftPriceLists(services: Services, actor: Actor): Promise<Result<PriceDraftList>> {
  return performAsStaff(services, actor, 'change_price_book', async ({ tx, business, today }) => {
    const drafts = await listPriceDrafts(tx, draftsShown);
    return ok({
      drafts: drafts.map(({ base: _base, ...shown }) => shown),
      timeZone: business.timeZone,
      today,
    });
  });
}

/** One of them, with what it would change. The owner's. */
export function readPriceDraft(
  services: Services,
  actor: Actor,
  input: { readonly draftId: PriceDraftId },
): Promise<Result<PriceDraftView>> {
  return performAsStaff(services, actor, 'change_price_book', (scope) =>
    loadPriceDraft(scope, input.draftId),
  );
}
