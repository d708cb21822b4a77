import { findQuote } from '@grainwright/db';
import { type QuoteId, type Result, refuse, type WorkOrderId } from '@grainwright/domain';
import { type Actor, performAsStaff } from '../perform.ts';
import type { Services } from '../services.ts';
import { openWorkOrder } from '../work-order-path.ts';
import { loadWorkOrder } from './load-work-order.ts';
import { takesQuotes, withdrawQuotes } from './place-quote.ts';
import type { WorkOrderView } from './work-order-view.ts';

export interface TakeQuoteBackInput {
  readonly workOrderId: WorkOrderId;
  readonly quoteId: QuoteId;
}

/**
 * Takes back a quote that was wrong, without another in its place; one that does not stand any more is left as it is.
 * Refuses with `wrong_state` (the work was accepted) or `not_found`.
 */
export function takeQuoteBack(
  services: Services,
  actor: Actor,
  { workOrderId, quoteId }: TakeQuoteBackInput,
): Promise<Result<WorkOrderView>> {
  return performAsStaff(services, actor, 'give_numbers', async (scope) => {
    const opened = await openWorkOrder(scope, workOrderId);
    if (!opened.ok) return opened;
    const quote = await findQuote(scope.tx, quoteId);
    if (quote === null || quote.workOrderId !== workOrderId)
      return refuse('not_found', 'There is no such quote on this work order.');
    if (quote.supersededAt !== null) return loadWorkOrder(scope, workOrderId);
    const open = takesQuotes(opened.value.state);
    if (!open.ok) return open;
    await withdrawQuotes(scope, workOrderId, [quote]);
    return loadWorkOrder(scope, workOrderId);
  });
}
