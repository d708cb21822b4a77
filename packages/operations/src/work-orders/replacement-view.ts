import {
  listQuoteSources,
  listStandingQuotes,
  type QuoteSource,
  type StandingQuote,
  type WorkOrderLineRow,
} from '@grainwright/db';
import {
  type FittedPart,
  type Instant,
  type LineId,
  type PlacedPart,
  partPositions,
  placedPartWords,
  type QuotedPart,
  type QuoteId,
  type ReplaceableLine,
  replacementCost,
  vehicleParts,
  type WorkOrderId,
} from '@grainwright/domain';
import type { Scope } from '../perform.ts';
import { known, lineFacts } from './line-facts.ts';

/** A quote for a new part as it stands. Amounts are minor units of the business’s currency. */
export interface QuoteView extends QuotedPart {
  readonly id: QuoteId;
  /** E.g. “Quarter trim, left”, or “All damaged parts together”. */
  readonly words: string;
  /** Of what the amount is made, where that was told. */
  readonly fitted: FittedPart | null;
  readonly note: string;
  /** Typed for this vehicle, or the last one for this part and kind of vehicle. */
  readonly origin: 'typed' | 'last_time';
  /** Whose quote it repeats; null for one that was typed, and for who is not of the staff. */
  readonly takenFrom: Omit<QuoteSource, 'quoteId'> | null;
  readonly givenAt: Instant;
  /** Whether it stands against the repair: not where its part was declined, or is not written up any more. */
  readonly counts: boolean;
}

/** What new parts would cost, fitted, before tax. */
export interface ReplacementView {
  /** The sum of the quotes that count. */
  readonly minor: bigint;
  readonly note: string;
  /** Repaired parts that nothing is quoted for, in words. */
  readonly unquoted: readonly string[];
}

export interface QuotedView {
  readonly quotes: readonly QuoteView[];
  /** Null without a quote that counts. */
  readonly replacement: ReplacementView | null;
}

/** The quotes of a work order and what they come to against these lines, some of which may be declined. */
export async function loadQuotes(
  scope: Pick<Scope, 'tx' | 'actor'>,
  workOrderId: WorkOrderId,
  lines: readonly ReplaceableLine[],
): Promise<QuotedView> {
  const rows = await listStandingQuotes(scope.tx, workOrderId);
  const taken = scope.actor.accountId === null && rows.some(({ origin }) => origin === 'last_time');
  const sources = taken ? await listQuoteSources(scope.tx, workOrderId) : [];
  const given = rows.map((row) => quoteView(row, sources));
  const cost = replacementCost(given, lines);
  const quotes = given.map((quote) => ({ ...quote, counts: cost.counted.includes(quote) }));
  if (cost.minor === null) return { quotes, replacement: null };
  const notes = cost.counted.map(({ note }) => note).filter((note) => note !== '');
  const unquoted = cost.unquoted.map(placedPartWords);
  return { quotes, replacement: { minor: cost.minor, note: notes.join('; '), unquoted } };
}

/** Lines as new parts are weighed against them. */
export function replaceableLines(
  rows: readonly WorkOrderLineRow[],
  isDeclined: (lineId: LineId) => boolean,
): readonly ReplaceableLine[] {
  return rows.map((row) => {
    const { part, side, repairsDamage } = lineFacts(row);
    return { part, side, repairsDamage, declined: isDeclined(row.id) };
  });
}

function quoteView(row: StandingQuote, sources: readonly QuoteSource[]): Omit<QuoteView, 'counts'> {
  const { id, amountMinor, note, origin, givenAt } = row;
  const placed = placedOf(row);
  const source = sources.find(({ quoteId }) => quoteId === id);
  return {
    id,
    placed,
    words: quotedWords(placed),
    amountMinor,
    fitted: fittedOf(row),
    note,
    origin,
    takenFrom:
      source === undefined
        ? null
        : { workOrderId: source.workOrderId, number: source.number, givenAt: source.givenAt },
    givenAt,
  };
}

export function placedOf({ part, side }: Pick<StandingQuote, 'part' | 'side'>): PlacedPart | null {
  if (part === '') return null;
  return { part: known(vehicleParts, part), side: side === '' ? null : known(partPositions, side) };
}

export function fittedOf({
  partMinor,
  fittingHours,
  hourlyMinor,
}: Pick<StandingQuote, 'partMinor' | 'fittingHours' | 'hourlyMinor'>): FittedPart | null {
  if (partMinor === null || fittingHours === null || hourlyMinor === null) return null;
  return { partMinor, hours: fittingHours, hourlyMinor };
}

export function quotedWords(placed: PlacedPart | null): string {
  if (placed === null) return 'All damaged parts together';
  const words = placedPartWords(placed);
  return `${words.charAt(0).toUpperCase()}${words.slice(1)}`;
}
