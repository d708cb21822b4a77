import type { PriceDraftId } from '@grainwright/domain';
import { startPriceDraft } from '@grainwright/operations';
import { type Account, must } from '../support/world.ts';

/** Counts from the day after the world's own, before all that other samples set for later. */
export const draftDay = '2026-08-06';

/** Price lists in the making: one to write in, one to put into force, one to discard. */
export async function tellDrafts({ business }: Account, word: string) {
  const start = async (name: string) => {
    const draftId = business.world.newId<PriceDraftId>();
    const input = { draftId, name: `${word} ${name}`, countsFrom: draftDay, copiedFrom: null };
    return must(await startPriceDraft(business.world.services, business.owner, input)).id;
  };
  return {
    priceDraft: await start('list'),
    readyDraft: await start('ready list'),
    idleDraft: await start('idle list'),
  };
}
