import {
  insertQuote,
  listStandingQuotes,
  listWorkOrderLines,
  type QuoteRow,
  supersedeQuotes,
} from '@grainwright/db';
import {
  ok,
  type QuoteId,
  type Result,
  refuse,
  takesNumbers,
  toId,
  type WorkOrderId,
  type WorkOrderState,
  workOrderStates,
} from '@grainwright/domain';
import { record, type Scope } from '../perform.ts';
import { toStoredJson } from '../stored-json.ts';
import type { ReadReplacement } from './read-write-up.ts';
import { replaceableLines } from './replacement-view.ts';

export type QuoteToPlace = Pick<
  QuoteRow,
  | 'id'
  | 'workOrderId'
  | 'part'
  | 'side'
  | 'amountMinor'
  | 'partMinor'
  | 'fittingHours'
  | 'hourlyMinor'
  | 'note'
  | 'origin'
  | 'takenFromId'
>;

/**
 * Writes a quote in place of the one for the same part. One sum for all damaged parts takes the place of those by part,
 * and one for a part that of the sum for all. So it does of one for the same part without a side, or with one where
 * this has none, unless that is written up as a line of its own: a side that was corrected would count twice. False
 * when the id is taken.
 */
export async function placeQuote(scope: Scope, quote: QuoteToPlace): Promise<boolean> {
  const { tx, now, actor } = scope;
  const standing = await listStandingQuotes(tx, quote.workOrderId);
  const lines = replaceableLines(await listWorkOrderLines(tx, quote.workOrderId), () => false);
  const isWrittenUp = ({ part, side }: Pick<QuoteRow, 'part' | 'side'>) =>
    lines.some((line) => line.repairsDamage && line.part === part && (line.side ?? '') === side);
  const replaced = standing.filter((other) => {
    if (quote.part === '' || other.part === '') return true;
    if (other.part !== quote.part) return false;
    if (other.side === quote.side) return true;
    return (other.side === '' || quote.side === '') && !isWrittenUp(other);
  });
  await supersedeQuotes(
    tx,
    replaced.map(({ id }) => id),
    now,
  );
  if (!(await insertQuote(tx, { ...quote, givenBy: actor.personId, givenAt: now }))) return false;
  const { part, side, amountMinor, note, origin } = quote;
  const after = { part, side, amount_minor: amountMinor, note, origin };
  const before = replaced.map((each) => ({
    part: each.part,
    side: each.side,
    amount_minor: each.amountMinor,
  }));
  await record(
    scope,
    'replacement_quoted',
    { kind: 'work_order', id: quote.workOrderId },
    toStoredJson({ before, after }),
  );
  return true;
}

/** One sum that was typed for all damaged parts together. */
export function wholeQuote(
  { newId }: Scope,
  workOrderId: WorkOrderId,
  { amountMinor, note }: ReadReplacement,
): QuoteToPlace {
  return {
    id: toId<QuoteId>(newId()),
    workOrderId,
    part: '',
    side: '',
    amountMinor,
    partMinor: null,
    fittingHours: null,
    hourlyMinor: null,
    note,
    origin: 'typed',
    takenFromId: null,
  };
}

/** Takes quotes back, so that nothing stands in their place. */
export async function withdrawQuotes(
  scope: Scope,
  workOrderId: WorkOrderId,
  quotes: readonly Pick<QuoteRow, 'id' | 'part' | 'side' | 'amountMinor'>[],
): Promise<void> {
  if (quotes.length === 0) return;
  await supersedeQuotes(
    scope.tx,
    quotes.map(({ id }) => id),
    scope.now,
  );
  const before = quotes.map(({ part, side, amountMinor }) => ({ part, side, amount_minor: amountMinor }));
  await record(
    scope,
    'replacement_quote_taken_back',
    { kind: 'work_order', id: workOrderId },
    toStoredJson({ before }),
  );
}

/** Quotes change until the work is accepted: then they are part of what the account's books were told. */
export function takesQuotes(state: WorkOrderState): Result<true> {
  if (takesNumbers(state) && state !== 'accepted') return ok(true);
  return refuse(
    'wrong_state',
    `This work order is “${workOrderStates[state]}”: what a new part would have cost stays as it was quoted.`,
  );
}
