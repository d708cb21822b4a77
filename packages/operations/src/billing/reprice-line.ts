import {
  type AccountPricing,
  type BookedPrices,
  type LineToReprice,
  listLinesToReprice,
  loadAccountPricing,
  loadPriceBook,
} from '@grainwright/db';
import {
  type AccountId,
  dayWords,
  type EstimateLine,
  type LineId,
  type LineToPrice,
  ok,
  type PricedLine,
  parseDecimal,
  priceLine,
  type Repaired,
  type Result,
  refuse,
} from '@grainwright/domain';
import type { Scope } from '../perform.ts';
import { storedRepaired } from '../work-orders/line-facts.ts';
import { buyerOn } from '../work-orders/price-lines.ts';

/** A line as it is billed, and the size or code that it should have had. */
export interface LineToMeasureAgain {
  readonly billed: EstimateLine;
  /** As measured on the picture, in inches; or else the code. */
  readonly measuredInches: string | undefined;
  readonly rateCode: string | undefined;
  /** The line's place in the input, for the field of a refusal: `lines.0`. */
  readonly field: string;
}

/**
 * Prices billed lines as they should have been: from the price book as of the day whose rates priced the estimate, with
 * the same care factor and the account's tier and own prices. Refuses with `price_by_hand` a line that was priced by
 * hand, and one whose own price does not come out again because tier or price book were changed since: such a line can
 * be reduced to an amount instead.
 */
export async function repriceLines(
  { tx }: Scope,
  accountId: AccountId,
  wanted: readonly LineToMeasureAgain[],
): Promise<Result<readonly PricedLine[]>> {
  if (wanted.length === 0) return ok([]);
  const account = await loadAccountPricing(tx, accountId);
  if (account === null) throw new Error('an account without its prices');
  const prices = { book: await loadPriceBook(tx), account };
  const written = await listLinesToReprice(
    tx,
    wanted.map(({ billed }) => billed.lineId),
  );
  const repriced: PricedLine[] = [];
  for (const line of wanted) {
    const price = repriceLine(line, findLine(written, line.billed.lineId), prices);
    if (!price.ok) return price;
    repriced.push(price.value);
  }
  return ok(repriced);
}

interface Prices {
  readonly book: BookedPrices;
  readonly account: AccountPricing;
}

function findLine(written: readonly LineToReprice[], id: LineId): LineToReprice | undefined {
  return written.find((line) => line.id === id);
}

function repriceLine(
  line: LineToMeasureAgain,
  written: LineToReprice | undefined,
  { book, account }: Prices,
): Result<PricedLine> {
  const { billed, field } = line;
  if (written === undefined || billed.byHand !== null)
    return refuse(
      'price_by_hand',
      `“${billed.repair}” was priced by hand, so no other size has a price. Reduce it to the amount agreed.`,
      field,
    );
  const { rateDay } = written;
  const buyer = buyerOn(account, rateDay);
  const same: Same = {
    lineId: billed.lineId,
    ...storedRepaired(written),
    careFactors: written.factorCode === null ? [] : [written.factorCode],
  };
  const asBilled: LineToPrice = { ...same, kind: 'code', code: billed.code };
  const again = priceLine(asBilled, book, buyer, rateDay);
  if (!again.ok || again.value.beforeFurtherMinor !== billed.beforeFurtherMinor)
    return refuse(
      'price_by_hand',
      `The prices that “${billed.repair}” was made from on ${dayWords(rateDay)} have changed since. Reduce it to the amount agreed.`,
      field,
    );
  const asked = askedSize(line, written, book, same);
  if (!asked.ok) return asked;
  const price = priceLine(asked.value.line, book, buyer, rateDay);
  return price.ok ? price : { ok: false, problem: { ...price.problem, field: asked.value.field } };
}

/** What measuring again leaves as it was. */
type Same = Repaired & { readonly lineId: LineId; readonly careFactors: readonly string[] };

function askedSize(
  { billed, measuredInches, rateCode, field }: LineToMeasureAgain,
  written: LineToReprice,
  book: BookedPrices,
  same: Same,
): Result<{ readonly line: LineToPrice; readonly field: string }> {
  if (rateCode !== undefined && rateCode.trim() !== '')
    return ok({
      line: { ...same, kind: 'code', code: rateCode.trim() },
      field: `${field}.rate_code`,
    });
  const size = parseDecimal((measuredInches ?? '').trim(), `${field}.measured_inches`);
  if (!size.ok) return size;
  const rate = book.rates.find((each) => each.code === billed.code);
  const family = written.family === '' ? (rate?.family ?? '') : written.family;
  return ok({
    line: { ...same, kind: 'size', family, sizeInches: size.value },
    field: `${field}.measured_inches`,
  });
}
