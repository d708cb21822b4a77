import {
  type EarlierQuote,
  findWorkOrder,
  listLastQuotes,
  listLineAnswers,
  listWorkOrderLines,
} from '@grainwright/db';
import {
  type FittedPart,
  type Instant,
  ok,
  type PlacedPart,
  type QuoteId,
  type Result,
  refuse,
  repairedParts,
  type WorkOrderId,
} from '@grainwright/domain';
import { type Actor, performAsStaff, type Scope } from '../perform.ts';
import type { Services } from '../services.ts';
import { takesQuotes } from './place-quote.ts';
import {
  fittedOf,
  loadQuotes,
  placedOf,
  type QuotedView,
  type QuoteView,
  quotedWords,
  replaceableLines,
} from './replacement-view.ts';

/** What a new part cost the last time, for this part and kind of vehicle. */
export interface LastQuoteView {
  readonly id: QuoteId;
  readonly amountMinor: bigint;
  readonly fitted: FittedPart | null;
  readonly note: string;
  readonly givenAt: Instant;
  readonly workOrderId: WorkOrderId;
  readonly number: bigint;
  readonly modelYear: number | null;
  /** The part it was for, which may be of the other side. */
  readonly placed: PlacedPart | null;
}

export interface PartToQuote {
  readonly placed: PlacedPart;
  readonly words: string;
  readonly quote: QuoteView | null;
  /** Offered where it has no quote; null where no such part was quoted yet. */
  readonly last: LastQuoteView | null;
}

export interface QuotesView extends QuotedView {
  readonly workOrderId: WorkOrderId;
  readonly currency: string;
  /** False once the work was accepted: quotes stay as they are. */
  readonly open: boolean;
  /** Each part that is repaired. */
  readonly parts: readonly PartToQuote[];
}

/** The quotes of a work order by part, with what the same part of the same kind of vehicle cost the last time. */
export function readQuotes(
  services: Services,
  actor: Actor,
  workOrderId: WorkOrderId,
): Promise<Result<QuotesView>> {
  return performAsStaff(services, actor, 'see_work_orders', async (scope) => {
    const found = await findWorkOrder(scope.tx, workOrderId);
    if (found === null) return refuse('not_found', 'There is no such work order.');
    const { workOrder, vehicle } = found;
    const rows = await listWorkOrderLines(scope.tx, workOrderId);
    const answers = await listLineAnswers(scope.tx, workOrderId);
    const lines = replaceableLines(rows, (lineId) =>
      answers.some((line) => line.lineId === lineId && line.answer === 'declined'),
    );
    const given = await loadQuotes(scope, workOrderId, lines);
    const open = takesQuotes(workOrder.state).ok;
    const parts = repairedParts(lines).map((placed) => ({
      placed,
      words: quotedWords(placed),
      quote: given.quotes.find((quote) => isFor(quote, placed)) ?? null,
    }));
    const offered = open ? await lastQuotes(scope, vehicle, parts) : [];
    return ok({
      ...given,
      workOrderId,
      currency: scope.business.currency,
      open,
      parts: parts.map((each) => ({
        ...each,
        last:
          each.quote === null
            ? (offered.find((last) => last.placed?.part === each.placed.part) ?? null)
            : null,
      })),
    });
  });
}

async function lastQuotes(
  { tx }: Scope,
  vehicle: { readonly make: string; readonly model: string },
  parts: readonly { readonly placed: PlacedPart; readonly quote: QuoteView | null }[],
): Promise<readonly LastQuoteView[]> {
  const open = parts.filter(({ quote }) => quote === null).map(({ placed }) => placed.part);
  return (await listLastQuotes(tx, vehicle, [...new Set(open)])).map(lastQuote);
}

function lastQuote(row: EarlierQuote): LastQuoteView {
  const { id, amountMinor, note, givenAt, workOrderId, number, modelYear } = row;
  return {
    id,
    amountMinor,
    fitted: fittedOf(row),
    note,
    givenAt,
    workOrderId,
    number,
    modelYear,
    placed: placedOf(row),
  };
}

function isFor({ placed }: QuoteView, part: PlacedPart): boolean {
  return placed !== null && placed.part === part.part && placed.side === part.side;
}
