import {
  findPriceDraft,
  insertPriceDraft,
  listRateRows,
  lockPriceBook,
  replacePriceDraftRates,
} from '@grainwright/db';
import { ok, type PriceDraftId, parseDay, type Result, refuse } from '@grainwright/domain';
import { everyResult } from '../every-result.ts';
import { type Actor, performAsStaff, record } from '../perform.ts';
import { sameContent } from '../same-content.ts';
import type { Services } from '../services.ts';
import { draftBase } from './draft-base.ts';
import { type DraftHeadInput, readDraftHead } from './draft-head.ts';
import { asListed, ratesOn } from './open-draft.ts';

export interface StartPriceDraftInput extends DraftHeadInput {
  readonly draftId: PriceDraftId;
  /** The day whose list it starts from; null: the day it counts from. */
  readonly copiedFrom: string | null;
}

/**
 * Starts a price list in the making from the one that is in force on a day. Nothing of it counts before it is put into
 * force. Refuses with `dates_out_of_order` a first day that has passed. The owner's to do.
 */
export function startPriceDraft(
  services: Services,
  actor: Actor,
  input: StartPriceDraftInput,
): Promise<Result<{ id: PriceDraftId }>> {
  return performAsStaff(services, actor, 'change_price_book', async (scope) => {
    const { tx, today, now } = scope;
    const { draftId: id } = input;
    const copied = input.copiedFrom?.trim() || null;
    const known = await findPriceDraft(tx, id);
    const read = everyResult({
      ...readDraftHead(input, known?.state === 'open' ? known.countsFrom : today),
      copiedFrom: parseDay(copied ?? input.countsFrom.trim(), 'copied_from'),
    });
    if (!read.ok) return read;
    if (known !== null)
      return sameContent(known, read.value)
        ? ok({ id })
        : refuse('id_reused', 'This id stands for another price list. Send a new one.', 'id');
    await lockPriceBook(tx);
    const book = await listRateRows(tx);
    const rates = ratesOn(book, read.value.copiedFrom).map(asListed);
    const draft = {
      id,
      ...read.value,
      base: draftBase(book, today),
      revision: 1,
      state: 'open' as const,
      startedBy: scope.actor.personId,
      startedAt: now,
      endedBy: null,
      endedAt: null,
    };
    if (!(await insertPriceDraft(tx, draft)))
      return refuse('id_reused', 'This id stands for another price list. Send a new one.', 'id');
    await replacePriceDraftRates(tx, id, rates);
    const { name, countsFrom, copiedFrom } = read.value;
    const detail = { name, counts_from: countsFrom, copied_from: copiedFrom, rates: rates.length };
    await record(scope, 'price_draft_started', { kind: 'price_draft', id }, detail);
    return ok({ id });
  });
}
