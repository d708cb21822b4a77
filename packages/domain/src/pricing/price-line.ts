import type { Day } from '../dates.ts';
import { dayWords } from '../day-words.ts';
import type { LineId } from '../ids.ts';
import { assertShare, type Decimal, decimal, multiplyDecimals, subtractDecimals } from '../money/decimal.ts';
import { displayPercent, formatMinor, roundHalfUp, timesHalfUp } from '../money/money.ts';
import { ok, type Result, refuse } from '../result.ts';
import {
  accountPriceInForce,
  contractInForce,
  factorInForce,
  type Repaired,
  rateApplies,
  rateInForce,
  rateOfFamily,
  tierPriceInForce,
} from './in-force.ts';
import type { Buyer, CareFactor, PriceBook, Rate } from './price-book.ts';

/** A line as written up: a repair by its code, by its family and measured size, or with a price by hand. */
export type LineToPrice =
  | (Repaired & {
      readonly kind: 'code';
      readonly lineId: LineId;
      readonly code: string;
      readonly careFactors: readonly string[];
    })
  | (Repaired & {
      readonly kind: 'size';
      readonly lineId: LineId;
      readonly family: string;
      readonly sizeInches: Decimal | null;
      readonly careFactors: readonly string[];
    })
  | {
      readonly kind: 'by_hand';
      readonly lineId: LineId;
      readonly code: string;
      readonly repair: string;
      readonly priceMinor: bigint;
      readonly reason: string;
      readonly materialsPercent: Decimal;
      readonly takesFurtherRepair: boolean;
    };

/** A line priced by itself, before other repairs of the vehicle have a say. Amounts are minor units. */
export interface PricedLine {
  readonly lineId: LineId;
  readonly code: string;
  readonly repair: string;
  /** For a line priced by hand, the price itself. */
  readonly listMinor: bigint;
  readonly afterFactorMinor: bigint;
  /** After account price, contract or tier; what the further-repair discount starts from. */
  readonly beforeFurtherMinor: bigint;
  readonly takesFurtherRepair: boolean;
  readonly materialsPercent: Decimal;
  /** How `beforeFurtherMinor` came about, in words, ending in it. */
  readonly beforeFurtherTrail: string;
  /** Why it was priced by hand, for the office; null when the price book gave the price. No account reads it. */
  readonly byHand: string | null;
}

/**
 * Price rules 1 to 3: the list rate in force on the day, times the care factors (rounded), then the first that there
 * is of the account's own price, which replaces all that; its contract's discount (rounded); the tier's own price,
 * which replaces all that too; the tier's discount (rounded). Common practice of the trade; the numbers are
 * configuration. Refuses with `price_by_hand` where there is no rate, `invalid_size`,
 * `invalid_money` or `invalid_input`.
 */
export function priceLine(line: LineToPrice, book: PriceBook, buyer: Buyer, on: Day): Result<PricedLine> {
  if (line.kind === 'by_hand') return priceByHand(line);
  const rate = findRate(line, book, on);
  if (!rate.ok) return rate;
  const factors = findFactors(line.careFactors, rate.value, book, on);
  if (!factors.ok) return factors;
  return ok(priceFromBook(line.lineId, rate.value, factors.value, buyer, on));
}

function findRate(line: Exclude<LineToPrice, { kind: 'by_hand' }>, book: PriceBook, on: Day): Result<Rate> {
  if (line.kind === 'size') return rateOfFamily(book.rates, line, on);
  const rate = rateInForce(book.rates, line.code, on);
  if (rate !== null && rateApplies(rate, line)) return ok(rate);
  const code = line.code.slice(0, 40);
  return refuse(
    'price_by_hand',
    rate === null
      ? `The price book has no rate ${code} on ${dayWords(on)}. Price it by hand, with a reason.`
      : `${code} is for another part or material. Choose another repair, or price it by hand with a reason.`,
    'repair',
  );
}

/** What a rate lists at for a line, with those of its care factors that are in force; rounded once. */
export function listWithFactors(rate: Rate, codes: readonly string[], book: PriceBook, on: Day): bigint {
  const inForce = codes.filter((code) => factorInForce(book.factors, code, on) !== null);
  const factors = findFactors(inForce, rate, book, on);
  return factors.ok ? applyFactors(rate.listMinor, factors.value) : rate.listMinor;
}

/** Care factors count only on repairs that take the further-repair discount; elsewhere they have no say. */
function findFactors(
  codes: readonly string[],
  rate: Rate,
  book: PriceBook,
  on: Day,
): Result<readonly CareFactor[]> {
  const factors: CareFactor[] = [];
  for (const code of new Set(codes)) {
    const factor = factorInForce(book.factors, code, on);
    if (factor === null)
      return refuse(
        'invalid_input',
        `The price book has no care factor ${code.slice(0, 40)}. Pick one from the list.`,
        'care_factors',
      );
    factors.push(factor);
  }
  return ok(rate.takesFurtherRepair ? factors : []);
}

function priceFromBook(
  lineId: LineId,
  rate: Rate,
  factors: readonly CareFactor[],
  buyer: Buyer,
  on: Day,
): PricedLine {
  const afterFactorMinor = applyFactors(rate.listMinor, factors);
  const listWords = `list ${formatMinor(rate.listMinor)}`;
  const factorWords = factors
    .map((factor) => `, ${factor.name} × ${displayPercent(factor.percent)}`)
    .join('');
  const bookWords =
    factors.length === 0 ? listWords : `${listWords}${factorWords} → ${formatMinor(afterFactorMinor)}`;
  const { minor: beforeFurtherMinor, words } = buyersPrice(rate.code, afterFactorMinor, buyer, on);
  return {
    lineId,
    code: rate.code,
    repair: rate.repair,
    listMinor: rate.listMinor,
    afterFactorMinor,
    beforeFurtherMinor,
    takesFurtherRepair: rate.takesFurtherRepair,
    materialsPercent: rate.materialsPercent,
    beforeFurtherTrail: `${bookWords}, ${words} → ${formatMinor(beforeFurtherMinor)}`,
    byHand: null,
  };
}

/** What this buyer pays for a repair that is at `afterFactorMinor`, and by which of their terms. */
function buyersPrice(
  code: string,
  afterFactorMinor: bigint,
  { accountPrices, contracts, tierPrices, tier }: Buyer,
  on: Day,
): { readonly minor: bigint; readonly words: string } {
  const own = accountPriceInForce(accountPrices, code, on);
  if (own !== null) return { minor: own.priceMinor, words: 'account’s own price' };
  const contract = contractInForce(contracts, on);
  if (contract !== null)
    return discounted(afterFactorMinor, `contract “${contract.name}”`, contract.discountPercent);
  const ofTier = tierPriceInForce(tierPrices, code, on);
  if (ofTier !== null) return { minor: ofTier.priceMinor, words: `${tier.name} price` };
  return discounted(afterFactorMinor, tier.name, tier.discountPercent);
}

function discounted(minor: bigint, whose: string, percent: Decimal) {
  const words = percent.digits === 0n ? `${whose}, no discount` : `${whose} −${displayPercent(percent)}`;
  return { minor: applyDiscount(minor, percent), words };
}

/** Several factors multiply, and the product is rounded once. */
function applyFactors(listMinor: bigint, factors: readonly CareFactor[]): bigint {
  const product = factors.reduce((soFar, factor) => {
    if (factor.percent.digits <= 0n) throw new Error(`care factor ${factor.code} is not above zero`);
    return multiplyDecimals(soFar, { digits: factor.percent.digits, scale: factor.percent.scale + 2 });
  }, decimal('1'));
  return timesHalfUp(listMinor, product);
}

function applyDiscount(minor: bigint, discountPercent: Decimal): bigint {
  assertShare(discountPercent, 'a discount');
  return roundHalfUp(minor, subtractDecimals(decimal('100'), discountPercent));
}

function priceByHand(line: Extract<LineToPrice, { kind: 'by_hand' }>): Result<PricedLine> {
  const reason = line.reason.trim();
  if (reason === '') return refuse('invalid_input', 'Say why this is priced by hand.', 'reason');
  if (line.priceMinor <= 0n)
    return refuse('invalid_money', 'A price by hand must be more than zero. Write what it costs.', 'price');
  return ok({
    lineId: line.lineId,
    code: line.code,
    repair: line.repair,
    listMinor: line.priceMinor,
    afterFactorMinor: line.priceMinor,
    beforeFurtherMinor: line.priceMinor,
    takesFurtherRepair: line.takesFurtherRepair,
    materialsPercent: line.materialsPercent,
    beforeFurtherTrail: `price for this repair ${formatMinor(line.priceMinor)}`,
    byHand: reason,
  });
}
