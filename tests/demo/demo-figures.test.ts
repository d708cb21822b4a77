import { checkLedger } from '@grainwright/operations';
import { beforeAll, describe, expect, test } from 'vitest';
import { demoTenants } from '../../apps/cli/src/demo/make-demo.ts';
import { type Demo, openDemo } from '../support/demo.ts';
import { cents, figures, fromCents, sumOf } from '../support/figures.ts';
import { everyPage, type Invoice, type WorkOrder } from './answers.ts';
import { springListFigures } from './spring-list.ts';

// Every expected figure is one of those agreed for the demo business (tests/figures), not one that this code printed.

const bookkeeper = 'hollis@quillfeather.example.com';
const owner = 'delphine@quillfeather.example.com';

let demo: Demo;
let invoices: ReadonlyMap<string, Invoice>;
let workOrders: ReadonlyMap<string, WorkOrder>;
let accounts: ReadonlyMap<string, string>;

beforeAll(async () => {
  demo = await openDemo();
  const opened = await demo.ask<{ accounts: { id: string; short_name: string }[] }>(bookkeeper, '/accounts');
  accounts = new Map(opened.accounts.map((account) => [account.short_name, account.id]));
  const rows = await everyPage<{ id: string }>(demo, owner, {
    path: '/invoices',
    name: 'invoices',
    cursor: 'before',
  });
  const read = await Promise.all(rows.map(({ id }) => demo.ask<Invoice>(bookkeeper, `/invoices/${id}`)));
  invoices = new Map(read.map((invoice) => [invoice.number, invoice]));
  const listed = await everyPage<{ id: string }>(demo, owner, {
    path: '/work-orders',
    name: 'work_orders',
    cursor: 'below',
  });
  const work = await Promise.all(listed.map(({ id }) => demo.ask<WorkOrder>(owner, `/work-orders/${id}`)));
  workOrders = new Map(work.map((each) => [each.number.replace(/^WO-/, ''), each]));
});

function invoice(number: string): Invoice {
  const found = invoices.get(number);
  if (found === undefined) throw new Error(`there is no ${number}`);
  return found;
}

function workOrder(number: string | undefined): WorkOrder {
  const found = workOrders.get(number ?? '');
  if (found === undefined) throw new Error(`there is no work order ${number}`);
  return found;
}

function accountId(shortName: string | undefined): string {
  const id = accounts.get(shortName ?? '');
  if (id === undefined) throw new Error(`there is no account ${shortName}`);
  return id;
}

const linesOf = ({ vehicles, charges }: Invoice) => [
  ...vehicles.flatMap((vehicle) => vehicle.lines),
  ...charges,
];
const netOf = (of: Invoice, ...kinds: readonly string[]) =>
  sumOf(linesOf(of).flatMap((line) => (kinds.includes(line.kind) ? [line.net] : [])));

describe('invoices', () => {
  test('there are 21 of them, 7,089.47 in all, of which 140.51 is tax', () => {
    const all = [...invoices.values()];
    expect(all.map(({ number }) => number).toSorted()).toEqual(figures('invoices').map((row) => row.no));
    expect(sumOf(all.map(({ total }) => total))).toBe('7089.47');
    expect(sumOf(all.map(({ tax }) => tax))).toBe('140.51');
  });

  test.each(figures('invoices'))('$no of $acct comes to what was agreed', (row) => {
    const found = invoice(row.no ?? '');
    const taxOf = (component: string) =>
      sumOf(found.taxes.flatMap((tax) => (tax.component === component ? [tax.tax] : [])));
    const classOf = (of: 'labor' | 'materials') =>
      sumOf(linesOf(found).flatMap((line) => (['repair', 'minimum'].includes(line.kind) ? [line[of]] : [])));
    expect({
      account: found.account_id,
      issued: found.issued_on,
      due: found.due_on,
      workOrders: found.vehicles.map((vehicle) => vehicle.work_order_number.replace(/^WO-/, '')),
      repairs: netOf(found, 'repair', 'minimum'),
      labor: classOf('labor'),
      materials: classOf('materials'),
      afterHours: netOf(found, 'after_hours'),
      trip: netOf(found, 'trip'),
      fee: netOf(found, 'fee'),
      state: taxOf('State'),
      local: taxOf('Local'),
      tax: found.tax,
      total: found.total,
    }).toEqual({
      account: accountId(row.acct),
      issued: row.date,
      due: row.due,
      workOrders: row.wos?.split(' '),
      repairs: fromCents(row.repairs),
      labor: fromCents(row.labor),
      materials: fromCents(row.mat),
      afterHours: fromCents(row.ah),
      trip: fromCents(row.trip),
      fee: fromCents(row.fee),
      state: fromCents(row.state),
      local: fromCents(row.local),
      tax: fromCents(row.tax),
      total: fromCents(row.total),
    });
  });

  test('on each billed vehicle stand the agreed lines with net, labor and materials', () => {
    const billed = [...invoices.values()].flatMap(({ vehicles }) =>
      vehicles.flatMap(({ work_order_number, lines }) =>
        lines
          .filter((line) => ['repair', 'minimum'].includes(line.kind))
          .map(({ code, net, labor, materials }) =>
            [work_order_number.replace(/^WO-/, ''), code, net, labor, materials].join(' '),
          ),
      ),
    );
    const agreed = figures('priced-lines')
      .filter(({ work_order }) => !['1025', '1039', '1040'].includes(work_order ?? ''))
      .map((row) => [row.work_order, row.code, row.net, row.labor, row.materials].join(' '));
    expect(billed.toSorted()).toEqual(agreed.toSorted());
  });
});

describe('work orders', () => {
  test('there are 40: 34 billed, and one each declined, void, rework, not there, held, undecided', () => {
    const states = figures('work-orders').map((row) => [row.wo, workOrder(row.wo).state] as const);
    const billed = states
      .filter(([, state]) => ['invoiced', 'paid'].includes(state))
      .map(([number]) => number);
    const toBeBilled = figures('work-orders').filter((row) => row.outcome === 'billed');
    expect(workOrders.size).toBe(40);
    expect(billed).toEqual(toBeBilled.map((row) => row.wo));
    expect(billed).toHaveLength(34);
    const rest = Object.fromEntries(states.filter(([number]) => !billed.includes(number)));
    expect(rest).toEqual({
      1013: 'void',
      1019: 'void',
      1020: 'accepted',
      1025: 'declined',
      1039: 'awaiting_approval',
      1040: 'written_up',
    });
    expect(workOrder('1040').hold_reason).not.toBeNull();
  });

  test.each(figures('priced-lines').filter((row) => row.code !== 'MIN'))(
    'WO-$work_order: $code comes to $after_tier_or_override by tier or account’s price',
    (row) => {
      const prices = workOrder(row.work_order)
        .estimate?.lines.filter((line) => line.code === row.code)
        .map((line) => line.before_further_repair);
      expect(prices).toContain(row.after_tier_or_override);
    },
  );

  test('above the limit of the account’s standing approval were 1006, 1016, 1037 and 1039', () => {
    // Agreed figures: 622.34 of 300, 379.53 of 350, 608.21 with after-hours of 400, 297.93 of 250, still held.
    const compared = ['1006', '1016', '1039'].map(
      (number) => workOrder(number).estimate?.compared_with_limit,
    );
    expect(compared).toEqual(['622.34', '379.53', '297.93']);
  });
});

interface Aging {
  readonly accounts: readonly {
    readonly short_name: string;
    readonly buckets: Readonly<Record<string, string>>;
    readonly unapplied: string;
    readonly balance: string;
  }[];
  readonly total: Omit<Aging['accounts'][number], 'short_name'>;
  readonly ledger: string;
}

describe('aging', () => {
  test.each(['2026-08-31', '2026-09-30', '2026-10-31'])('as of %s', async (day) => {
    const aging = await demo.ask<Aging>(bookkeeper, `/reports/aging?as_of=${day}`);
    const flat = [...aging.accounts, { ...aging.total, short_name: 'total' }].map((row) => ({
      account: row.short_name,
      ...row.buckets,
      unapplied: row.unapplied,
      balance: row.balance,
    }));
    const owing = flat.filter((row) => row.balance !== '0.00' || row.unapplied !== '0.00');
    const agreed = figures('aging')
      .filter((row) => row.as_of === day && (row.balance !== '0.00' || row.unapplied !== '0.00'))
      .map(({ as_of: _day, ...row }) => row);
    const byName = (a: { account?: string }, b: { account?: string }) =>
      (a.account ?? '').localeCompare(b.account ?? '');
    expect(owing.toSorted(byName)).toEqual(agreed.toSorted(byName));
    expect(aging.ledger).toBe(aging.total.balance);
  });
});

interface Statement {
  readonly opening: string;
  readonly charges: string;
  readonly credits: string;
  readonly payments: string;
  readonly closing: string;
}

describe('statements', () => {
  const statement = (account: string, month: string) =>
    demo.ask<Statement>(bookkeeper, `/accounts/${accountId(account)}/statements/${month}`);

  test.each([
    ['PL', '2026-09', ['207.25', '600.78', '0.00', '565.58', '242.45']],
    ['PL', '2026-10', ['242.45', '773.24', '0.00', '242.45', '773.24']],
    ['TR', '2026-09', ['521.08', '242.68', '0.00', '600.00', '163.76']],
    ['TR', '2026-10', ['163.76', '0.00', '0.00', '0.00', '163.76']],
    ['HD', '2026-10', ['337.88', '612.59', '121.56', '337.88', '491.03']],
  ])('%s in %s: opening, charges, credits, payments, closing', async (account, month, agreed) => {
    const { opening, charges, credits, payments, closing } = await statement(account, month);
    expect([opening, charges, credits, payments, closing]).toEqual(agreed);
  });

  test('October closes at 1,824.65 over all accounts, with the glass account 123.22 in credit', async () => {
    const closings = new Map(
      await Promise.all(
        [...accounts.keys()].map(async (key) => [key, (await statement(key, '2026-10')).closing] as const),
      ),
    );
    expect(sumOf([...closings.values()])).toBe('1824.65');
    expect(closings.get('BG')).toBe('-123.22');
  });
});

interface SalesTax {
  readonly areas: readonly {
    readonly month: string;
    readonly area: string;
    readonly invoices: { readonly taxes: readonly { readonly component: string; readonly amount: string }[] };
    readonly net: {
      readonly gross: string;
      readonly exempt: string;
      readonly non_taxable: string;
      readonly taxable: string;
      readonly taxes: readonly { readonly component: string; readonly amount: string }[];
    };
  }[];
}

describe('sales tax', () => {
  test('by month, area and component, as invoiced and after credits', async () => {
    const report = await demo.ask<SalesTax>(bookkeeper, '/reports/sales-tax?from=2026-08-01&to=2026-10-31');
    const amountOf = (
      taxes: readonly { readonly component: string; readonly amount: string }[],
      component: string | undefined,
    ) => taxes.find((tax) => tax.component === component)?.amount ?? '0.00';
    const reported = figures('sales-tax').map(({ month, area, component }) => {
      const found = report.areas.find((each) => each.month === month && each.area === area);
      return {
        month,
        area,
        component,
        invoiced: amountOf(found?.invoices.taxes ?? [], component),
        after_credits: amountOf(found?.net.taxes ?? [], component),
      };
    });
    expect(reported).toEqual(figures('sales-tax'));
    for (const { net } of report.areas)
      expect(cents(net.gross)).toBe(cents(net.exempt) + cents(net.non_taxable) + cents(net.taxable));
  });
});

interface CreditNote {
  readonly number: string;
  readonly issued_on: string;
  readonly net: string;
  readonly tax: string;
  readonly total: string;
  readonly unapplied: string;
}

describe('receipts and credits', () => {
  test('three credit notes: 117.88, 3.68 of tax alone, and in November 67.88 that leaves 4.13', async () => {
    const { credit_notes } = await demo.ask<{ credit_notes: CreditNote[] }>(bookkeeper, '/credit-notes');
    const told = credit_notes
      .toSorted((a, b) => a.number.localeCompare(b.number))
      .map(({ number, total, tax, unapplied }) => ({ number, total, tax, unapplied }));
    expect(told).toEqual([
      { number: 'CN-3001', total: '117.88', tax: '0.70', unapplied: '0.00' },
      { number: 'CN-3002', total: '3.68', tax: '3.68', unapplied: '0.00' },
      { number: 'CN-3003', total: '67.88', tax: '4.13', unapplied: '4.13' },
    ]);
    expect(invoice('INV-2020').open).toBe('491.03');
    expect(invoice('INV-2004').open).toBe('0.00');
  });

  test('63.75 was in dispute since September 10 and is answered by the credit', async () => {
    const { disputes } = await demo.ask<{
      disputes: { amount: string; opened_on: string; answer: string | null; invoice_number: string }[];
    }>(bookkeeper, '/disputes?open=false');
    expect(disputes).toContainEqual(
      expect.objectContaining({ amount: '63.75', opened_on: '2026-09-10', invoice_number: 'INV-2004' }),
    );
  });

  test('every receipt is there with what it settled, the returned check and the deposits among them', async () => {
    interface Payment {
      readonly account_id: string;
      readonly received_on: string;
      readonly method: string;
      readonly amount: string;
      readonly purpose: string;
      readonly state: string;
      readonly returned_on: string | null;
    }
    const payments = await everyPage<Payment>(demo, owner, {
      path: '/payments',
      name: 'payments',
      cursor: 'before',
    });
    const keys = new Map([...accounts].map(([key, id]) => [id, key]));
    const told = payments.map((payment) =>
      [
        payment.received_on,
        keys.get(payment.account_id),
        payment.purpose === 'deposit' ? 'deposit' : payment.method.toLowerCase(),
        payment.amount,
      ].join(' '),
    );
    const agreed = figures('receipts')
      .filter((row) => !/returned|credit note/.test(row.kind ?? ''))
      .map((row) => [row.date, row.acct, row.kind?.toLowerCase(), fromCents(row.amount_cents)].join(' '));
    expect(told.toSorted()).toEqual(agreed.toSorted());
    const returned = payments.filter((payment) => payment.state === 'returned');
    expect(returned.map(({ amount, returned_on }) => [amount, returned_on])).toEqual([
      ['210.69', '2026-08-19'],
    ]);
  });
});

describe('technicians', () => {
  test('earn 1,082.67, 582.82 and 386.30 on repair labor before credits', async () => {
    const { technicians } = await demo.ask<{
      technicians: { name: string; before_credits: string }[];
    }>(owner, '/reports/commissions?from=2026-08-01&to=2026-10-31');
    expect(Object.fromEntries(technicians.map((each) => [each.name, each.before_credits]))).toEqual({
      'Ines Okparo': '1082.67',
      'Tobias Wrenfield': '582.82',
      'Marlo Quist': '386.30',
    });
  });

  test('came back once in 34 billed work orders', async () => {
    const { comebacks } = await demo.ask<{ comebacks: { billed: number; came_back: number } }>(
      owner,
      '/reports/figures?from=2026-08-01&to=2026-10-31',
    );
    expect(comebacks).toMatchObject({ billed: 34, came_back: 1 });
  });
});

test('the ledger of every business of the demo adds up', async () => {
  for (const tenantId of Object.values(demoTenants)) {
    const report = await checkLedger(demo.world.services, tenantId);
    expect(report).toMatchObject({ ok: true, value: { faults: [] } });
  }
});

describe('the price list in the making', () => springListFigures(() => demo));
