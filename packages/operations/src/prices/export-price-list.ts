import { listRateRows } from '@grainwright/db';
import { priceListCsv } from '@grainwright/documents';
import { type Day, inListOrder, ok, type PriceDraftId, type Result } from '@grainwright/domain';
import { type Actor, performAsStaff } from '../perform.ts';
import type { Services } from '../services.ts';
import type { ExportedFile } from '../statements/export-statement.ts';
import { loadPriceDraft, ratesOn } from './open-draft.ts';

/** The price list of a day as CSV, today's unless said otherwise: a row a rate, which can be read into a draft. */
export function exportPriceList(
  services: Services,
  actor: Actor,
  input: { readonly on: Day | null },
): Promise<Result<ExportedFile>> {
  return performAsStaff(services, actor, 'see_price_book', async ({ tx, business, today }) => {
    const on = input.on ?? today;
    const rates = inListOrder(ratesOn(await listRateRows(tx), on));
    return ok(asFile(`price-list-${on}.csv`, priceListCsv(rates, business.currency)));
  });
}

/** A draft in the same columns. The owner's. */
export function exportPriceDraft(
  services: Services,
  actor: Actor,
  input: { readonly draftId: PriceDraftId },
): Promise<Result<ExportedFile>> {
  return performAsStaff(services, actor, 'change_price_book', async (scope) => {
    const draft = await loadPriceDraft(scope, input.draftId);
    if (!draft.ok) return draft;
    const { countsFrom, rates, currency } = draft.value;
    return ok(asFile(`price-list-draft-${countsFrom}.csv`, priceListCsv(rates, currency)));
  });
}

function asFile(fileName: string, text: string): ExportedFile {
  return { fileName, mediaType: 'text/csv; charset=utf-8; header=present', text };
}
