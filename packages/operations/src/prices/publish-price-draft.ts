import { insertRates, listPriceDraftRates, listRateRows, lockPriceBook, setLastDay } from '@grainwright/db';
import { addDays, ok, type PriceDraftId, type Result, refuse } from '@grainwright/domain';
import { type Actor, performAsStaff } from '../perform.ts';
import type { Services } from '../services.ts';
import { codesMovedSince } from './draft-base.ts';
import { type EndPriceDraftInput, end, lockToEnd } from './end-draft.ts';
import { checkStillToCome } from './next-period.ts';
import { planList } from './plan-list.ts';

/**
 * Puts a draft into force from its day on, whole or not at all: what changes ends the day before and goes on with the
 * new price, what the list leaves out ends, what is new begins, what stays the same is left alone. Refuses with
 * `shown_changed` where the price book or the draft was changed meanwhile, with `dates_out_of_order` a day that is not
 * to come, and as changing a single rate does. The owner's to do; once done it stays.
 */
export function publishPriceDraft(
  services: Services,
  actor: Actor,
  input: EndPriceDraftInput,
): Promise<Result<{ id: PriceDraftId }>> {
  return performAsStaff(services, actor, 'change_price_book', async (scope) => {
    const { tx, today } = scope;
    await lockPriceBook(tx);
    const draft = await lockToEnd(scope, input, 'published');
    if (!draft.ok) return draft;
    if (draft.value === null) return ok({ id: input.draftId });
    const { id, countsFrom } = draft.value;
    const toCome = checkStillToCome(countsFrom, today);
    if (!toCome.ok) return refuse('dates_out_of_order', toCome.problem.detail, 'counts_from');
    const book = await listRateRows(tx);
    const moved = codesMovedSince(draft.value, book);
    if (moved.length > 0) return refuseMoved(moved);
    const rates = await listPriceDraftRates(tx, id);
    if (rates.length === 0)
      return refuse('line_missing', 'The list is empty. Add its rates, or discard it.', 'rates');
    const plan = planList(rates, book, countsFrom, scope.newId);
    if (!plan.ok) return plan;
    const { ended, added } = plan.value;
    await setLastDay(
      tx,
      'rate',
      ended.map((rate) => rate.id),
      addDays(countsFrom, -1),
    );
    if (added.length > 0) await insertRates(tx, added);
    const codes = (of: readonly { readonly code: string }[]) => of.map(({ code }) => code);
    const detail = { counts_from: countsFrom, begun: codes(added), ended: codes(ended) };
    return end(scope, id, { state: 'published', action: 'price_list_put_into_force', detail });
  });
}

function refuseMoved(codes: readonly string[]): Extract<Result<never>, { ok: false }> {
  const named = codes.slice(0, 12).join(', ');
  const more = codes.length > 12 ? ` and ${codes.length - 12} more` : '';
  return refuse(
    'shown_changed',
    `${named}${more} changed in the price book since this list was begun. Look at what stands there now, go on from it, and then put the list into force.`,
    'revision',
  );
}
