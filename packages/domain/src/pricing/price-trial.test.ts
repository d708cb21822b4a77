import { expect, test } from 'vitest';
import { type AccountId, toId, type VisitId, type WorkOrderId } from '../ids.ts';
import { decimal } from '../money/decimal.ts';
import {
  demoAccount,
  demoBook,
  demoLineId,
  demoLines,
  demoTerms,
  demoTiers,
  demoVisits,
} from './demo-figures.ts';
import type { PriceBook, Rate } from './price-book.ts';
import { type LineToPrice, priceLine } from './price-line.ts';
import { priceTrial, type TriedAccount, type WorkToTry } from './price-trial.ts';
import { priceVehicle, vehicleRules } from './price-vehicle.ts';

const idOf = (number: string) => `00000000-0000-7000-8000-${number.padStart(12, '0')}`;
const accountIds = ['BG', 'UF', 'PL', 'HD', 'DR', 'TR', 'RW'];
const accountId = (key: string) => toId<AccountId>(idOf(String(accountIds.indexOf(key) + 1)));
const workOrderId = (number: string) => toId<WorkOrderId>(idOf(number));

/** A work order of the invented business as it was priced then, in the agreed figures. */
function workToTry(number: string): WorkToTry {
  const written = demoLines.filter((line) => line.workOrder === number);
  const visit = demoVisits.find((each) => each.workOrders.some((order) => order.number === number));
  const [first] = written;
  if (first === undefined || visit === undefined) throw new Error(`no work order ${number}`);
  const { buyer } = demoAccount(first.account);
  const lines = written
    .filter((line) => line.code !== 'MIN')
    .map((line, index) => {
      const again: LineToPrice = {
        kind: 'code',
        lineId: demoLineId(index),
        code: line.code,
        part: null,
        material: null,
        careFactors: line.factors,
      };
      const priced = priceLine(again, demoBook, buyer, line.date);
      if (!priced.ok) throw new Error(priced.problem.detail);
      const { netMinor } = line;
      return {
        lineId: again.lineId,
        label: line.code,
        priced: priced.value,
        netMinor,
        trail: 'as agreed',
        again,
      };
    });
  const { miles, afterHours, walkIn } = visit;
  const { tier } = buyer;
  return {
    workOrderId: workOrderId(number),
    accountId: accountId(first.account),
    visitId: toId<VisitId>(idOf(`9${demoVisits.indexOf(visit)}`)),
    rateDay: first.date,
    buyer,
    rules: {
      vehicle: vehicleRules(tier, demoTerms),
      visit: { miles, afterHours, walkIn, rush: false },
      tier,
      terms: demoTerms,
    },
    lines,
    repairsMinor: written.reduce((sum, line) => sum + line.netMinor, 0n),
  };
}

/** The price book with other rates for some codes; null takes a code out. */
function listWith(changes: Readonly<Record<string, Partial<Rate> | null>>): PriceBook {
  return {
    ...demoBook,
    rates: demoBook.rates.flatMap((rate) => {
      const change = changes[rate.code];
      return change === null ? [] : [{ ...rate, ...change }];
    }),
  };
}

function tryList(
  changes: Parameters<typeof listWith>[0],
  numbers: readonly string[],
): readonly TriedAccount[] {
  return priceTrial(numbers.map(workToTry), { before: demoBook, after: listWith(changes) });
}

function only(accounts: readonly TriedAccount[]): TriedAccount {
  const [account] = accounts;
  if (account === undefined || accounts.length > 1) throw new Error('not one account');
  return account;
}

const everyNumber = [...new Set(demoLines.map((line) => line.workOrder))];

// The agreed figures of the demo: 37 work orders whose lines come to the sums of their accounts.
test('the list that is in force changes nothing, and no work order is kept apart', () => {
  const accounts = tryList({}, everyNumber);
  expect(accounts.map((each) => each.workOrders).reduce((a, b) => a + b, 0)).toBe(37);
  for (const account of accounts) {
    const agreed = demoLines
      .filter((line) => accountId(line.account) === account.accountId)
      .reduce((sum, line) => sum + line.netMinor, 0n);
    expect([account.beforeMinor, account.afterMinor]).toEqual([agreed, agreed]);
    expect([account.keptWorkOrders, account.byHandLines, account.changed]).toEqual([0, 0, []]);
  }
});

// By hand. VC-M 210.00 at trade −15 %: 178.50; WR-1 95.00: 80.75, further repair 90 %: 72.675 → 72.68. 178.50 + 72.68 =
// 251.18, against the agreed 165.75 + 72.68 = 238.43: 12.75 more. With the trip of 45.00: 296.18 against 283.43.
test('VC-M from 195.00 to 210.00 makes WO-1004 12.75 dearer', () => {
  const account = only(tryList({ 'VC-M': { listMinor: 21000n } }, ['1004']));
  expect(account).toMatchObject({
    beforeMinor: 23843n,
    afterMinor: 25118n,
    withVisitsBeforeMinor: 28343n,
    withVisitsAfterMinor: 29618n,
  });
  const [work] = account.changed;
  expect(work?.lines.map(({ label, before, after }) => [label, before.netMinor, after.netMinor])).toEqual([
    ['WR-1', 7268n, 7268n],
    ['VC-M', 16575n, 17850n],
  ]);
  expect(work?.lines[1]?.after.trail).toBe('list 210.00, trade −15 % → 178.50, first repair 100 % → 178.50');
});

// By hand. WR-1 240.00: 204.00, now the dearest and so in full; VC-M 165.75 at 90 %: 149.175 → 149.18. Sum 353.18.
test('the dearest repair is found anew, so the further-repair percents change places', () => {
  const account = only(tryList({ 'WR-1': { listMinor: 24000n } }, ['1004']));
  expect(account.afterMinor).toBe(35318n);
  expect(account.changed[0]?.lines.map(({ after }) => after.netMinor)).toEqual([20400n, 14918n]);
});

// By hand. BN-L 400.00 × 110 % = 440.00, −15 %: 374.00; BN-M 219.73 at 90 %: 197.76; with 63.75 + 38.25: 673.76.
test('care factors, and repairs at their own price, count as they did', () => {
  const account = only(tryList({ 'BN-L': { listMinor: 40000n } }, ['1006']));
  expect([account.beforeMinor, account.afterMinor]).toEqual([62234n, 67376n]);
});

// The account's own price of 90.00 for BN-S stands in for list and tier.
test('an account with its own price pays it under any list', () => {
  const account = only(tryList({ 'BN-S': { listMinor: 50000n } }, ['1008']));
  expect([account.beforeMinor, account.afterMinor, account.changed.length]).toEqual([17100n, 17100n, 0]);
});

// By hand. KF-1 60.00 at lot −45 %: 33.00, lifted by 32.00 to the minimum of 65.00, as 25.85 was by 39.15.
test('below the vehicle minimum a dearer rate changes the line and not the bill', () => {
  const account = only(tryList({ 'KF-1': { listMinor: 6000n } }, ['1018']));
  expect([account.beforeMinor, account.afterMinor, account.changed.length]).toEqual([6500n, 6500n, 0]);
});

// By hand. Lot −45 %, waived from 300.00: LW-P 300.00 → 165.00, further 90 %: 148.50; together 313.50 with nothing for
// the trip of 45.00; before 193.33 + 65.00 (the other vehicle) + 45.00 = 303.33, after 313.50 + 65.00 = 378.50.
test('a visit that reaches the threshold of the trip by the new list has none', () => {
  const account = only(tryList({ 'LW-P': { listMinor: 30000n } }, ['1017', '1018']));
  expect([account.beforeMinor, account.afterMinor]).toEqual([25833n, 37850n]);
  expect([account.withVisitsBeforeMinor, account.withVisitsAfterMinor]).toEqual([30333n, 37850n]);
});

test('a line that the new list has no rate for is counted at its old price and named', () => {
  const account = only(tryList({ 'VC-M': null }, ['1004']));
  expect(account).toMatchObject({ beforeMinor: 23843n, afterMinor: 23843n, byHandLines: 1 });
  expect(account.changed[0]?.lines.map(({ byHand }) => byHand)).toEqual([false, true]);
});

// 2.2 in was measured: a list whose bands part at 2 in prices it as the larger one. VC-L 285.00, −15 %: 242.25.
test('a measured size picks among the new bands', () => {
  const work = workToTry('1004');
  const lines = work.lines.map((line) =>
    line.label === 'VC-M'
      ? {
          ...line,
          again: {
            kind: 'size' as const,
            lineId: line.lineId,
            family: 'VC',
            sizeInches: decimal('2.2'),
            part: null,
            material: null,
            careFactors: [],
          },
        }
      : line,
  );
  const after = listWith({
    'VC-M': { band: { overInches: decimal('1'), toInches: decimal('2') } },
    'VC-L': { band: { overInches: decimal('2'), toInches: decimal('6') } },
  });
  const account = only(priceTrial([{ ...work, lines }], { before: demoBook, after }));
  expect(account.changed[0]?.lines[1]?.after).toMatchObject({ code: 'VC-L', netMinor: 24225n });
});

test('a line priced by hand stays as it is', () => {
  const work = workToTry('1004');
  const lines = work.lines.map((line) => ({ ...line, again: null }));
  const after = listWith({ 'VC-M': { listMinor: 21000n }, 'WR-1': { listMinor: 21000n } });
  const account = only(priceTrial([{ ...work, lines }], { before: demoBook, after }));
  expect([account.afterMinor, account.byHandLines]).toEqual([23843n, 0]);
});

test('work that was priced on terms the account no longer has is counted at its old price, and said to be', () => {
  const work = workToTry('1004');
  const buyer = { ...work.buyer, tier: demoTiers.lot };
  const after = listWith({ 'VC-M': { listMinor: 21000n } });
  const account = only(priceTrial([{ ...work, buyer }], { before: demoBook, after }));
  expect(account).toMatchObject({ beforeMinor: 23843n, afterMinor: 23843n, keptWorkOrders: 1, changed: [] });
});

test('a rework without charge stays without', () => {
  const work = workToTry('1004');
  const rules = { ...work.rules, vehicle: { ...work.rules.vehicle, rework: true } };
  const none = work.lines.map((line) => ({ ...line, netMinor: 0n }));
  const reworked = { ...work, rules, lines: none, repairsMinor: 0n };
  expect(
    priceVehicle(
      none.map((line) => line.priced),
      rules.vehicle,
    ).repairsMinor,
  ).toBe(0n);
  const account = only(
    priceTrial([reworked], { before: demoBook, after: listWith({ 'VC-M': { listMinor: 21000n } }) }),
  );
  expect(account).toMatchObject({
    beforeMinor: 0n,
    afterMinor: 0n,
    keptWorkOrders: 0,
    withVisitsAfterMinor: 0n,
  });
});
