import {
  type BookedPrices,
  forbidChanges,
  listPricedWork,
  listPricedWorkLines,
  loadBuyers,
  loadPriceBook,
  type PricedWorkLine,
  type PricedWorkRow,
} from '@grainwright/db';
import {
  type AccountId,
  addMonths,
  asRate,
  type Day,
  fromTheStart,
  type LineToPrice,
  type LineToTry,
  ok,
  type PriceDraftId,
  priceTrial,
  type Result,
  refuse,
  type TriedAccount,
  type TriedWork,
  type WorkToTry,
} from '@grainwright/domain';
import { type Actor, performAsStaff, type Scope } from '../perform.ts';
import type { Services } from '../services.ts';
import { storedRules } from '../stored-prices.ts';
import { asPricedLine } from '../work-orders/estimate-version.ts';
import { buyerOn, toPrice } from '../work-orders/price-lines.ts';
import { vehicleWords } from '../work-orders/vehicle-words.ts';
import { loadPriceDraft, type PriceDraftView } from './open-draft.ts';

export interface TriedWorkView extends TriedWork {
  readonly number: bigint;
  readonly day: Day;
  readonly vehicle: string;
}

export interface TriedAccountView extends Omit<TriedAccount, 'changed'> {
  readonly name: string;
  /** Work orders whose price changes, or of which a line would have to be priced by hand: the newest first. */
  readonly changed: readonly TriedWorkView[];
}

export interface PriceTrialView {
  readonly draft: PriceDraftView;
  /** The first and the last day of work that was tried. */
  readonly from: Day;
  readonly to: Day;
  readonly accounts: readonly TriedAccountView[];
  readonly total: Omit<TriedAccount, 'accountId' | 'changed'>;
  /** There is more work than is tried: the newest of it was taken. */
  readonly leftOut: boolean;
}

export interface TryPriceDraftInput {
  readonly draftId: PriceDraftId;
  /** Null: all accounts. */
  readonly accountId: AccountId | null;
}

const monthsTried = 3;
/** So many work orders are tried at most. */
export const workOrdersTriedMax = 5000;

/**
 * What the work of the last three months would have come to under a draft price list, account by account. It reads only:
 * the database refuses a change while it runs. The owner's. Refuses with `not_found`, also an account without such work.
 */
export function tryPriceDraft(
  services: Services,
  actor: Actor,
  input: TryPriceDraftInput,
): Promise<Result<PriceTrialView>> {
  return performAsStaff(services, actor, 'change_price_book', async (scope) => {
    await forbidChanges(scope.tx);
    const draft = await loadPriceDraft(scope, input.draftId);
    if (!draft.ok) return draft;
    const days = { from: addMonths(scope.today, -monthsTried), to: scope.today };
    const found = await listPricedWork(scope.tx, { ...days, ...input }, workOrdersTriedMax + 1);
    if (input.accountId !== null && found.length === 0)
      return refuse('not_found', 'This account has no work that the list could be tried on.');
    const rows = found.slice(0, workOrdersTriedMax);
    const accounts = await tryOn(scope, rows, draft.value);
    return ok({
      draft: draft.value,
      ...days,
      accounts,
      total: totalOf(accounts),
      leftOut: found.length > workOrdersTriedMax,
    });
  });
}

async function tryOn(
  { tx }: Scope,
  rows: readonly PricedWorkRow[],
  draft: PriceDraftView,
): Promise<readonly TriedAccountView[]> {
  const before = await loadPriceBook(tx);
  const lines = await listPricedWorkLines(
    tx,
    rows.map((row) => row.versionId),
  );
  const buyers = await loadBuyers(
    tx,
    rows.map((row) => row.accountId),
  );
  const byVersion = Map.groupBy(lines, ({ line }) => line.versionId);
  const work = rows.map((row): WorkToTry => {
    const buyer = buyers.get(row.accountId);
    if (buyer === undefined) throw new Error('a work order names an account that is not there');
    return {
      ...row,
      buyer: buyerOn(buyer, row.rateDay),
      rules: storedRules(row.rules),
      lines: (byVersion.get(row.versionId) ?? []).map((line) => lineToTry(line, row.rateDay, before)),
    };
  });
  const always = { from: fromTheStart, to: null };
  const after = { ...before, rates: draft.rates.map((rate) => asRate(rate, always)) };
  const facts = new Map(rows.map((row) => [row.workOrderId, row]));
  const nameOf = new Map(rows.map((row) => [row.accountId, row.accountName]));
  return priceTrial(work, { before, after })
    .map((account) => ({
      ...account,
      name: nameOf.get(account.accountId) ?? '',
      changed: account.changed.map((each) => withFacts(each, facts.get(each.workOrderId))),
    }))
    .toSorted((a, b) => a.name.localeCompare(b.name));
}

function lineToTry(priced: PricedWorkLine, rateDay: Day, book: BookedPrices): LineToTry {
  const { line, netMinor, trail } = priced;
  const again = line.byHand === null ? againOf(priced, rateDay, book) : null;
  return { lineId: line.lineId, label: line.description, priced: asPricedLine(line), netMinor, trail, again };
}

/** As it was written up, so that its size picks among the bands of the list that is tried. */
function againOf({ line, writtenUp }: PricedWorkLine, rateDay: Day, book: BookedPrices): LineToPrice {
  const again = writtenUp === null ? null : toPrice(writtenUp, { book, rateDay });
  if (again?.ok) return again.value;
  const { lineId, code } = line;
  return { kind: 'code', lineId, code, part: null, material: null, careFactors: [] };
}

function withFacts(tried: TriedWork, row: PricedWorkRow | undefined): TriedWorkView {
  if (row === undefined) throw new Error('a work order was tried that was not read');
  return { ...tried, number: row.number, day: row.day, vehicle: vehicleWords(row.vehicle, row.ownNumber) };
}

function totalOf(accounts: readonly TriedAccountView[]): PriceTrialView['total'] {
  const none = {
    workOrders: 0,
    beforeMinor: 0n,
    afterMinor: 0n,
    withVisitsBeforeMinor: 0n,
    withVisitsAfterMinor: 0n,
    byHandLines: 0,
    keptWorkOrders: 0,
  };
  return accounts.reduce(
    (sum, each) => ({
      workOrders: sum.workOrders + each.workOrders,
      beforeMinor: sum.beforeMinor + each.beforeMinor,
      afterMinor: sum.afterMinor + each.afterMinor,
      withVisitsBeforeMinor: sum.withVisitsBeforeMinor + each.withVisitsBeforeMinor,
      withVisitsAfterMinor: sum.withVisitsAfterMinor + each.withVisitsAfterMinor,
      byHandLines: sum.byHandLines + each.byHandLines,
      keptWorkOrders: sum.keptWorkOrders + each.keptWorkOrders,
    }),
    none,
  );
}
