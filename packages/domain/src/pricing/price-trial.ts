import type { Day } from '../dates.ts';
import type { AccountId, LineId, VisitId, WorkOrderId } from '../ids.ts';
import { sumMinor } from '../money/money.ts';
import type { Buyer, PriceBook, PriceTerms } from './price-book.ts';
import { type LineToPrice, type PricedLine, priceLine } from './price-line.ts';
import { type EstimateLine, priceVehicle, type VehicleRules } from './price-vehicle.ts';
import { priceVisit, type VisitFacts, type VisitTier } from './price-visit.ts';

/** A line that was agreed to or asked for: how it was priced, and how it would be priced again. */
export interface LineToTry {
  readonly lineId: LineId;
  /** E.g. “Cut or tear, tailgate lining”. */
  readonly label: string;
  /** As the estimate froze it. */
  readonly priced: PricedLine;
  /** What of it was charged, and why. */
  readonly netMinor: bigint;
  readonly trail: string;
  /** Null for a line priced by hand: it stays. */
  readonly again: LineToPrice | null;
}

/** What priced an estimate besides its lines, as it was stored with it. */
export interface RulesOfThen {
  readonly vehicle: VehicleRules;
  readonly visit: VisitFacts;
  readonly tier: VisitTier;
  readonly terms: PriceTerms;
}

export interface WorkToTry {
  readonly workOrderId: WorkOrderId;
  readonly accountId: AccountId;
  readonly visitId: VisitId;
  /** The day whose rates counted. */
  readonly rateDay: Day;
  readonly buyer: Buyer;
  readonly rules: RulesOfThen;
  /** In the order written, without what was declined. */
  readonly lines: readonly LineToTry[];
  /** Lines and minimum, as the estimate or its answer froze them. */
  readonly repairsMinor: bigint;
}

export interface TriedLine {
  readonly lineId: LineId;
  readonly label: string;
  readonly before: { readonly netMinor: bigint; readonly trail: string };
  readonly after: Pick<EstimateLine, 'code' | 'netMinor' | 'trail'>;
  /** The new list has no rate for it: it is counted at its old price, and would have to be priced by hand. */
  readonly byHand: boolean;
}

export interface TriedWork {
  readonly workOrderId: WorkOrderId;
  readonly accountId: AccountId;
  readonly lines: readonly TriedLine[];
  readonly beforeMinor: bigint;
  readonly afterMinor: bigint;
  /** What priced it can't be worked out again, so it is counted at its old price. */
  readonly kept: boolean;
}

/** What a list would have come to for one account. Amounts are minor units. */
export interface TriedAccount {
  readonly accountId: AccountId;
  readonly workOrders: number;
  readonly beforeMinor: bigint;
  readonly afterMinor: bigint;
  /** With what each visit adds, before tax. */
  readonly withVisitsBeforeMinor: bigint;
  readonly withVisitsAfterMinor: bigint;
  /** Lines that would have to be priced by hand. */
  readonly byHandLines: number;
  readonly keptWorkOrders: number;
  /** The work orders whose price changes, or that have such a line, in the order given. */
  readonly changed: readonly TriedWork[];
}

export interface TrialBooks {
  readonly before: PriceBook;
  /** With the rates of the list that is tried, in force on every day. */
  readonly after: PriceBook;
}

/**
 * What past work would have come to under another price list. Each line that the price book priced is priced again
 * with the new rates and all else as it was: care factors, tier, contract, account's own price, the order of further
 * repairs, cap and minimum, and what a visit adds. Lines priced by hand stay. A work order that the old book does not
 * price as it stands (the account’s terms or the write-up have changed since) is counted at its old price, so that no
 * difference is put down to the list that is not its own. Accounts in the order of `work`.
 */
export function priceTrial(work: readonly WorkToTry[], books: TrialBooks): readonly TriedAccount[] {
  const tried = work.map((each) => ({ work: each, result: tryWork(each, books) }));
  return [...Map.groupBy(tried, (each) => each.work.accountId)].map(([accountId, ofAccount]) => {
    const results = ofAccount.map(({ result }) => result);
    return {
      accountId,
      workOrders: results.length,
      beforeMinor: sumMinor(results.map((each) => each.beforeMinor)),
      afterMinor: sumMinor(results.map((each) => each.afterMinor)),
      ...withVisits(ofAccount),
      byHandLines: results.reduce((sum, each) => sum + byHandLines(each), 0),
      keptWorkOrders: results.filter((each) => each.kept).length,
      changed: results.filter((each) => each.beforeMinor !== each.afterMinor || byHandLines(each) > 0),
    };
  });
}

function byHandLines({ lines }: TriedWork): number {
  return lines.filter((line) => line.byHand).length;
}

function tryWork(work: WorkToTry, books: TrialBooks): TriedWork {
  const { workOrderId, accountId, repairsMinor: beforeMinor } = work;
  const kept = !isReproduced(work, books.before);
  const again = work.lines.map((line) => (kept ? null : priceAgain(line, work, books.after)));
  const price = priceVehicle(
    work.lines.map((line, index) => again[index] ?? line.priced),
    work.rules.vehicle,
  );
  const lines = work.lines.map(({ lineId, label, netMinor, trail, again: toPrice, priced }, index) => {
    const after = kept ? undefined : price.lines[index];
    return {
      lineId,
      label,
      before: { netMinor, trail },
      after: after ?? { code: priced.code, netMinor, trail },
      byHand: !kept && toPrice !== null && again[index] === null,
    };
  });
  return {
    workOrderId,
    accountId,
    lines,
    beforeMinor,
    afterMinor: kept ? beforeMinor : price.repairsMinor,
    kept,
  };
}

/** Null where the book has no price for it, or where it was priced by hand. */
function priceAgain({ again }: LineToTry, { buyer, rateDay }: WorkToTry, book: PriceBook): PricedLine | null {
  if (again === null) return null;
  const priced = priceLine(again, book, buyer, rateDay);
  return priced.ok ? priced.value : null;
}

/** Whether the old book still makes of it what was frozen then. */
function isReproduced(work: WorkToTry, book: PriceBook): boolean {
  const sameLines = work.lines.every((line) => {
    if (line.again === null) return true;
    const price = priceAgain(line, work, book);
    return (
      price !== null &&
      price.beforeFurtherMinor === line.priced.beforeFurtherMinor &&
      price.takesFurtherRepair === line.priced.takesFurtherRepair
    );
  });
  const price = () =>
    priceVehicle(
      work.lines.map((line) => line.priced),
      work.rules.vehicle,
    );
  return sameLines && price().repairsMinor === work.repairsMinor;
}

function withVisits(
  tried: readonly { readonly work: WorkToTry; readonly result: TriedWork }[],
): Pick<TriedAccount, 'withVisitsBeforeMinor' | 'withVisitsAfterMinor'> {
  const visits = [...Map.groupBy(tried, ({ work }) => work.visitId).values()];
  const sumOf = (repairs: (result: TriedWork) => bigint) =>
    sumMinor(
      visits.flatMap((vehicles) => {
        const [first] = vehicles;
        if (first === undefined) return [];
        const { visit, tier, terms } = first.work.rules;
        const prices = vehicles.map(({ result }) => ({ repairsMinor: repairs(result) }));
        return [priceVisit(prices, visit, tier, terms).netMinor];
      }),
    );
  return {
    withVisitsBeforeMinor: sumOf((result) => result.beforeMinor),
    withVisitsAfterMinor: sumOf((result) => result.afterMinor),
  };
}
