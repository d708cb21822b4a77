import { findQuote, findWorkOrder, listLastQuotes, listWorkOrderLines, type QuoteRow } from '@grainwright/db';
import {
  displayMoney,
  type FittedPart,
  fittedMinor,
  formatDecimal,
  ok,
  type PlacedPart,
  parseMoney,
  partPositions,
  placedPartWords,
  type QuoteId,
  type Result,
  refuse,
  vehicleParts,
  type WorkOrderId,
} from '@grainwright/domain';
import { everyResult } from '../every-result.ts';
import { type Actor, performAsStaff, type Scope } from '../perform.ts';
import { readNumber, readOptionalWords } from '../read-input.ts';
import { sameContent } from '../same-content.ts';
import type { Services } from '../services.ts';
import { openWorkOrder } from '../work-order-path.ts';
import { loadWorkOrder } from './load-work-order.ts';
import { placeQuote, takesQuotes } from './place-quote.ts';
import { readChoice, readOptionalChoice } from './read-choice.ts';
import { replaceableLines } from './replacement-view.ts';
import type { WorkOrderView } from './work-order-view.ts';

/** What a new part costs, fitted, before tax. Texts as typed; fields’ names in refusals are those of the API. */
export interface GiveQuoteInput {
  /** Made by the client: the same quote sent again under it is the same one. */
  readonly id: QuoteId;
  readonly workOrderId: WorkOrderId;
  /** The damaged part it is for; empty: one sum for all damaged parts together. */
  readonly part: string;
  readonly side: string;
  /** The sum, or the part and the labor to fit it, or both where they add up. */
  readonly amount: string;
  readonly partPrice: string;
  readonly fittingHours: string;
  readonly hourlyRate: string;
  readonly note: string;
  /** Instead of any amount: the last quote for this part and kind of vehicle. */
  readonly takenFromId: QuoteId | null;
}

/**
 * Puts on record what a new part would cost. Refuses with `wrong_state` (the work was accepted), `invalid_input`
 * (no such damage, amounts that don’t add up, a quote that is not the last one), `invalid_money`, `id_reused` or
 * `not_found`.
 */
export function giveQuote(
  services: Services,
  actor: Actor,
  input: GiveQuoteInput,
): Promise<Result<WorkOrderView>> {
  return performAsStaff(services, actor, 'give_numbers', async (scope) => {
    const { id, workOrderId } = input;
    const read = readQuote(input, scope.business.currency);
    if (!read.ok) return read;
    const opened = await openWorkOrder(scope, workOrderId);
    if (!opened.ok) return opened;
    const earlier = await findQuote(scope.tx, id);
    if (earlier !== null)
      return sameContent(earlier, asSaid(input, read.value)) ? loadWorkOrder(scope, workOrderId) : reusedId();
    const open = takesQuotes(opened.value.state);
    if (!open.ok) return open;
    const damaged = await checkDamage(scope, workOrderId, read.value.placed);
    if (!damaged.ok) return damaged;
    const amounts = await amountsOf(scope, input, read.value);
    if (!amounts.ok) return amounts;
    const { takenFromId } = input;
    const origin = takenFromId === null ? ('typed' as const) : ('last_time' as const);
    const quote = {
      id,
      ...placeIn(input, read.value),
      ...amounts.value,
      note: read.value.note,
      origin,
      takenFromId,
    };
    return (await placeQuote(scope, quote)) ? loadWorkOrder(scope, workOrderId) : reusedId();
  });
}

type Amounts = Pick<QuoteRow, 'amountMinor' | 'partMinor' | 'fittingHours' | 'hourlyMinor'>;

interface ReadQuote {
  readonly placed: PlacedPart | null;
  readonly note: string;
  /** Null where the last quote is taken. */
  readonly typed: Amounts | null;
}

function readQuote(input: GiveQuoteInput, currency: string): Result<ReadQuote> {
  return everyResult({
    placed: readPlace(input),
    note: readOptionalWords(input.note, 'note', 'who quoted it', 500),
    typed: input.takenFromId === null ? readAmounts(input, currency) : readNoAmounts(input),
  });
}

function readPlace({ part, side }: GiveQuoteInput): Result<PlacedPart | null> {
  if (part.trim() === '') return ok(null);
  return everyResult({
    part: readChoice(vehicleParts, part, 'part', 'Choose the part.'),
    side: readOptionalChoice(partPositions, side, 'side', 'The side is left, center or right, or nothing.'),
  });
}

function readNoAmounts(input: GiveQuoteInput): Result<null> {
  if (amountFields.every((field) => input[field].trim() === '')) return ok(null);
  return refuse('invalid_input', 'Take the last quote as it was, or write what it costs now.', 'amount');
}

const fittedFields = ['partPrice', 'fittingHours', 'hourlyRate'] as const;
const amountFields = ['amount', ...fittedFields] as const;
const apiNames = {
  partPrice: 'part_price',
  fittingHours: 'fitting_hours',
  hourlyRate: 'hourly_rate',
} as const;

function readAmounts(input: GiveQuoteInput, currency: string): Result<Amounts> {
  const written = fittedFields.filter((field) => input[field].trim() !== '');
  const missing = fittedFields.find((field) => input[field].trim() === '');
  if (written.length === 0) return readSum(input.amount, currency);
  if (missing !== undefined)
    return refuse(
      'invalid_input',
      'Write the part, the hours and the rate an hour, or only what it costs in all.',
      apiNames[missing],
    );
  const fitted = readFitted(input, currency);
  if (!fitted.ok) return fitted;
  const { partMinor, hours, hourlyMinor } = fitted.value;
  const amountMinor = fittedMinor(fitted.value);
  const sum = input.amount.trim() === '' ? ok(amountMinor) : positive(input.amount, 'amount', currency);
  if (!sum.ok) return sum;
  if (sum.value !== amountMinor)
    return refuse(
      'invalid_input',
      `${fittedWords(fitted.value, currency)} comes to ${displayMoney(amountMinor, currency)}, not ${displayMoney(sum.value, currency)}. Correct one of them, or leave the sum out.`,
      'amount',
    );
  return ok({ amountMinor, partMinor, fittingHours: hours, hourlyMinor });
}

function readSum(text: string, currency: string): Result<Amounts> {
  const amount = positive(text, 'amount', currency);
  if (!amount.ok) return amount;
  return ok({ amountMinor: amount.value, partMinor: null, fittingHours: null, hourlyMinor: null });
}

function readFitted(input: GiveQuoteInput, currency: string): Result<FittedPart> {
  return everyResult({
    partMinor: positive(input.partPrice, 'part_price', currency),
    hours: readNumber(input.fittingHours, 'fitting_hours', { least: '0.01', most: '200', decimals: 2 }),
    hourlyMinor: positive(input.hourlyRate, 'hourly_rate', currency),
  });
}

function positive(text: string, field: string, currency: string): Result<bigint> {
  const read = parseMoney(text, { currency, field });
  if (!read.ok || read.value > 0n) return read;
  return refuse('invalid_money', 'Write what it costs; nothing costs zero.', field);
}

function fittedWords({ partMinor, hours, hourlyMinor }: FittedPart, currency: string): string {
  return `${displayMoney(partMinor, currency)} and ${formatDecimal(hours)} h at ${displayMoney(hourlyMinor, currency)}`;
}

async function checkDamage(
  { tx }: Scope,
  workOrderId: WorkOrderId,
  placed: PlacedPart | null,
): Promise<Result<true>> {
  if (placed === null) return ok(true);
  const lines = replaceableLines(await listWorkOrderLines(tx, workOrderId), () => false);
  const there = lines.some(
    ({ part, side, repairsDamage }) => repairsDamage && part === placed.part && side === placed.side,
  );
  if (there) return ok(true);
  return refuse(
    'invalid_input',
    `No damage of the ${placedPartWords(placed)} is written up. Write it up first, or quote another part.`,
    'part',
  );
}

/** What was typed, or what the last quote says: only the last one counts as such. */
async function amountsOf(
  { tx }: Scope,
  { workOrderId, takenFromId }: GiveQuoteInput,
  { placed, typed }: ReadQuote,
): Promise<Result<Amounts>> {
  if (typed !== null) return ok(typed);
  const found = await findWorkOrder(tx, workOrderId);
  if (found === null) throw new Error('a locked work order is gone');
  const [last] = placed === null ? [] : await listLastQuotes(tx, found.vehicle, [placed.part]);
  if (last === undefined || last.id !== takenFromId)
    return refuse(
      'invalid_input',
      'That is not the last quote for this part and kind of vehicle. Look at the quotes again.',
      'taken_from',
    );
  const { amountMinor, partMinor, fittingHours, hourlyMinor } = last;
  return ok({ amountMinor, partMinor, fittingHours, hourlyMinor });
}

function placeIn({ workOrderId }: GiveQuoteInput, { placed }: ReadQuote) {
  return { workOrderId, part: placed?.part ?? '', side: placed?.side ?? '' };
}

/** What a repeated request has to say the same of. */
function asSaid(input: GiveQuoteInput, read: ReadQuote) {
  const { takenFromId } = input;
  return { ...placeIn(input, read), ...read.typed, note: read.note, takenFromId };
}

function reusedId() {
  return refuse('id_reused', 'This id was already used for another quote. Send it under a new id.', 'id');
}
