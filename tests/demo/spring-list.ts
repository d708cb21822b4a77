import { beforeAll, expect, test } from 'vitest';
import type { Demo } from '../support/demo.ts';
import { figures, fromCents, sumOf } from '../support/figures.ts';

const owner = 'delphine@quillfeather.example.com';

interface Tried {
  readonly from: string;
  readonly to: string;
  readonly total: { readonly work_orders: number; readonly work_orders_kept: number };
  readonly accounts: readonly {
    readonly account_id: string;
    readonly repairs_before: string;
    readonly repairs_after: string;
  }[];
}

/** The demo’s price list in the making; `demo` is asked for once the tests run. */
export function springListFigures(demo: () => Demo): void {
  let accounts: ReadonlyMap<string, string>;

  function idOf(shortName: string | undefined): string {
    const id = accounts.get(shortName ?? '');
    if (id === undefined) throw new Error(`there is no account ${shortName}`);
    return id;
  }

  let tried: Tried;

  beforeAll(async () => {
    const opened = await demo().ask<{ accounts: { id: string; short_name: string }[] }>(owner, '/accounts');
    accounts = new Map(opened.accounts.map((account) => [account.short_name, account.id]));
    const { drafts } = await demo().ask<{ drafts: { id: string; name: string }[] }>(
      owner,
      '/price-book/drafts',
    );
    expect(drafts.map(({ name }) => name)).toEqual(['Spring list']);
    tried = await demo().ask<Tried>(owner, `/price-book/drafts/${drafts[0]?.id}/trial`);
  });

  test('the demo’s price list in the making is tried on the work of the last three months, which begins at the agreed repairs of each account', () => {
    expect([tried.from, tried.to]).toEqual(['2026-08-25', '2026-11-25']);
    // WO-1040 is written up, and its estimate not sent.
    const left = [
      'declined',
      'void, duplicate write-up',
      'vehicle not there, fee billed',
      'estimate, owner undecided',
    ];
    const rows = figures('work-orders').filter(
      (row) => (row.date ?? '') >= tried.from && !left.includes(row.outcome ?? ''),
    );
    const agreed = [...Map.groupBy(rows, (row) => idOf(row.acct))].map(([id, of]) => [
      id,
      sumOf(of.map((row) => fromCents(row.repair_amount))),
    ]);
    const before = tried.accounts.map((each) => [each.account_id, each.repairs_before]);
    expect(Object.fromEntries(before)).toEqual(Object.fromEntries(agreed));
    expect([tried.total.work_orders, tried.total.work_orders_kept]).toEqual([rows.length, 0]);
  });

  // By hand, dealer −25 %: WO-1015 SC-S 99.00 → 74.25 at 90 % 66.83, 2.70 more; WO-1023 LT-M 235.00 → 176.25 and SC-S
  // 66.83, 10.20 more; WO-1037 LW-P 195.00 → 146.25 at 90 % 131.63 and SC-S at 80 % 59.40, 9.15 more. 884.83 + 22.05.
  test('what it would have come to for the dealer is what is computed by hand', () => {
    const dealer = tried.accounts.find((each) => each.account_id === idOf('HD'));
    expect(dealer).toMatchObject({ repairs_before: '884.83', repairs_after: '906.88' });
  });
}
