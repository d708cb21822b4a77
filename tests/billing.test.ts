import type { InvoiceId, OpeningId, WorkOrderId } from '@grainwright/domain';
import {
  bringForward,
  checkLedger,
  type InvoiceView,
  issueInvoice,
  listInvoices,
  listReadyToInvoice,
} from '@grainwright/operations';
import postgres, { type Sql } from 'postgres';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { billingDesk, codeOf, tailgate } from './support/billing-desk.ts';
import { type AcceptedWork, acceptedWork, signed } from './support/billing-world.ts';
import { receiptsDesk } from './support/receipts-desk.ts';
import { aBusiness, anAccount, type Business, must, openWorld, type World } from './support/world.ts';

let world: World;
let business: Business;
let desk: ReturnType<typeof billingDesk>;
let admin: Sql;

beforeAll(async () => {
  world = await openWorld();
  business = await aBusiness(world);
  desk = billingDesk(business);
  admin = postgres(world.adminUrl, { max: 1, onnotice: () => undefined });
});
afterAll(async () => {
  await admin.end({ timeout: 5 });
});

async function stateOf(id: WorkOrderId): Promise<string> {
  const [row] = await admin`select state from work_orders where id = ${id}`;
  return String(row?.state);
}

// The figures of the tailgate lining were computed by another program; the case is invented, common practice, no source.
test('a tailgate lining for a glass installer is invoiced at 284.90 and due in 15 days', async () => {
  const account = await anAccount(business);
  const work = await acceptedWork(account, { codes: tailgate });
  const invoice = must(await desk.issue([work]));
  expect(
    invoice.vehicles[0]?.lines.map((line) => [
      line.code,
      line.netMinor,
      line.laborMinor,
      line.materialsMinor,
    ]),
  ).toEqual([
    ['WR-1', 7268n, 6905n, 363n],
    ['VC-M', 16575n, 14586n, 1989n],
  ]);
  expect(invoice.vehicles[0]?.subtotalMinor).toBe(23843n);
  expect(invoice.charges.map((line) => [line.kind, line.netMinor])).toEqual([['trip', 4500n]]);
  expect(invoice.taxes.map((tax) => [tax.component, tax.baseMinor, tax.taxMinor])).toEqual([
    ['State', 2352n, 118n],
    ['Local', 2352n, 29n],
  ]);
  expect([invoice.totalMinor, invoice.openMinor]).toEqual([28490n, 28490n]);
  expect([invoice.issuedOn, invoice.dueOn]).toEqual(['2026-08-05', '2026-08-20']);
  expect(invoice.vehicles[0]?.acceptance?.signerName).toBe('Orrin Vasek');
  expect(await stateOf(work.id)).toBe('invoiced');
  expect(await desk.faults()).toEqual([]);
});

test('the invoice posts receivables against revenue by class and tax by component', async () => {
  const invoice = await desk.issued(await anAccount(business));
  const lines = await admin`select ledger_account, tax_component, amount_minor::text as amount
    from journal_lines where invoice_id = ${invoice.id} order by position`;
  expect(lines.map((line) => [line.ledger_account, line.tax_component, line.amount])).toEqual([
    ['receivables', null, '28490'],
    ['revenue_labor', null, '-21491'],
    ['revenue_materials', null, '-2352'],
    ['revenue_trip', null, '-4500'],
    ['tax_payable', 'State', '-118'],
    ['tax_payable', 'Local', '-29'],
  ]);
});

test('the same id with the same work orders is the same invoice, with others it is refused', async () => {
  const account = await anAccount(business);
  const work = await acceptedWork(account, { codes: tailgate });
  const id = world.newId<InvoiceId>();
  const first = must(await desk.issue([work], id));
  expect(must(await desk.issue([work], id)).number).toBe(first.number);
  const other = await acceptedWork(account, { codes: ['KF-1'] });
  expect(codeOf(await desk.issue([other], id))).toBe('id_reused');
  expect(codeOf(await desk.issue([work]))).toBe('already_invoiced');
});

test('the trip is charged once for a visit, whichever invoice comes first', async () => {
  const account = await anAccount(business);
  const first = await acceptedWork(account, { codes: ['VC-M'] });
  const second = await acceptedWork(account, { codes: ['BN-S'], sameVisitAs: first });
  expect(must(await desk.issue([first])).charges.map((line) => line.netMinor)).toEqual([4500n]);
  expect(must(await desk.issue([second])).charges).toEqual([]);
});

test('a visit whose repairs reach the threshold has no trip, also when it is billed vehicle by vehicle', async () => {
  const account = await anAccount(business, { limit: null });
  const first = await acceptedWork(account, { codes: ['PU-L', 'VC-M'] });
  const second = await acceptedWork(account, { codes: ['BN-S'], sameVisitAs: first });
  // 361.25 + 165.75 × 90 % = 510.43 (149.175 → 149.18), more than the trade tier's 400.00.
  expect(must(await desk.issue([first])).charges).toEqual([]);
  expect(must(await desk.issue([second])).charges).toEqual([]);
});

// An invented job of a dealer, by the same program: 820.01 as written, 612.59 without the dash.
test('what an approver left out is not billed, and what is billed is what they approved to the cent', async () => {
  world.at('2026-10-14T17:40');
  const dealer = await anAccount(business, { tierCode: 'dealer', limit: '700.00', termsDays: 30 });
  const work = await acceptedWork(dealer, {
    codes: ['LT-L/perf', 'DB-M', 'LW-P', 'SC-S'],
    declined: [1],
    afterHours: true,
  });
  const invoice = must(await desk.issue([work]));
  world.at('2026-08-05T09:00');
  expect(invoice.vehicles[0]?.lines.map((line) => line.netMinor)).toEqual([30469n, 12488n, 5700n]);
  expect(invoice.charges.map((line) => [line.kind, line.netMinor])).toEqual([['after_hours', 12164n]]);
  expect([invoice.totalMinor, invoice.dueOn]).toEqual([61259n, '2026-11-13']);
});

// The rule: 25 % of the visit's repairs, at least 60.00. Each of the two was approved with 60.00, which is more.
test('after hours is charged once on the repairs of all vehicles of an invoice', async () => {
  const account = await anAccount(business);
  const first = await acceptedWork(account, { codes: ['KF-1'], afterHours: true });
  const second = await acceptedWork(account, { codes: ['KF-1'], afterHours: true, sameVisitAs: first });
  const invoice = must(await desk.issue([first, second]));
  expect(invoice.vehicles.map((vehicle) => vehicle.subtotalMinor)).toEqual([12500n, 12500n]);
  expect(invoice.charges.map((line) => [line.kind, line.netMinor])).toEqual([
    ['after_hours', 6250n],
    ['trip', 4500n],
  ]);
});

test('after hours belongs to the visit: billed vehicle by vehicle its minimum is charged once', async () => {
  const account = await anAccount(business, { tierCode: 'lot' });
  const first = await acceptedWork(account, { codes: ['KF-1'], afterHours: true });
  const second = await acceptedWork(account, { codes: ['KF-1'], afterHours: true, sameVisitAs: first });
  const afterHours = (invoice: InvoiceView) =>
    invoice.charges.filter((line) => line.kind === 'after_hours').map((line) => line.netMinor);
  // 25 % of 65.00 is 16.25, of both 32.50: under the minimum of 60.00 either way.
  expect(afterHours(must(await desk.issue([first])))).toEqual([6000n]);
  expect(afterHours(must(await desk.issue([second])))).toEqual([]);
  const trade = await anAccount(business);
  const one = await acceptedWork(trade, { codes: ['KF-1'], afterHours: true });
  const other = await acceptedWork(trade, { codes: ['KF-1'], afterHours: true, sameVisitAs: one });
  // 25 % of the minimum of 125.00 is 31.25, raised to 60.00; of both it is 62.50.
  expect(afterHours(must(await desk.issue([one])))).toEqual([6000n]);
  expect(afterHours(must(await desk.issue([other])))).toEqual([250n]);
});

test('repairs of the visit that are approved and not billed yet count for waiving the trip', async () => {
  const account = await anAccount(business, { limit: null });
  const first = await acceptedWork(account, { codes: ['KF-1'] });
  const second = await acceptedWork(account, { codes: ['PU-L'], sameVisitAs: first });
  // Minimum 125.00 and 361.25 are 486.25, more than the trade tier's 400.00.
  expect(must(await desk.issue([first])).charges).toEqual([]);
  expect(must(await desk.issue([second])).charges).toEqual([]);
});

test('work orders of two visits, work that is not accepted and a missing number are not invoiced', async () => {
  const account = await anAccount(business, { requiresRo: true });
  const one = await acceptedWork(account, { codes: ['KF-1'], roNumber: '48102' });
  const elsewhere = await acceptedWork(account, { codes: ['KF-1'], roNumber: '48103' });
  expect(codeOf(await desk.issue([one, elsewhere]))).toBe('invalid_input');
  const early = await acceptedWork(account, { codes: ['KF-1'], roNumber: '48104', state: 'done' });
  expect(codeOf(await desk.issue([early]))).toBe('wrong_state');
  const unnumbered = await acceptedWork(account, { codes: ['KF-1'] });
  expect(codeOf(await desk.issue([unnumbered]))).toBe('number_missing');
  const ready = must(await listReadyToInvoice(world.services, business.office, { accountId: account.id }));
  const waiting = ready.invoices.flatMap((invoice) => invoice.workOrders);
  expect(waiting.map((each) => [each.id, each.missing])).toEqual([
    [one.id, []],
    [elsewhere.id, []],
    [unnumbered.id, ['repair_order']],
  ]);
});

test('invoice numbers have no gap when eight are issued at once and every other one fails', async () => {
  const other = await aBusiness(world, { firstInvoiceNumber: 501 });
  const account = await anAccount(other);
  const works = [];
  for (let index = 0; index < 8; index += 1)
    works.push(
      await acceptedWork(account, { codes: ['KF-1'], state: index % 2 === 0 ? 'accepted' : 'done' }),
    );
  const attempt = (work: AcceptedWork) =>
    issueInvoice(world.services, other.bookkeeper, {
      invoiceId: world.newId<InvoiceId>(),
      workOrderIds: [work.id],
    });
  await Promise.all(works.map(attempt));
  for (const work of works.filter((_, index) => index % 2 === 1)) await signed(account, work.id);
  await Promise.all(works.map(attempt));
  const list = must(
    await listInvoices(world.services, other.bookkeeper, { accountId: null, openOnly: false, past: null }),
  );
  const numbers = [508, 507, 506, 505, 504, 503, 502, 501].map((number) => `INV-0${number}`);
  expect(list.rows.map((row) => row.number)).toEqual(numbers);
  expect(must(await checkLedger(world.services, other.tenantId)).faults).toEqual([]);
});

test('eight people who issue the same work order at once make one invoice', async () => {
  const account = await anAccount(business);
  const work = await acceptedWork(account, { codes: ['KF-1'] });
  const results = await Promise.all(Array.from({ length: 8 }, () => desk.issue([work])));
  expect(results.map(codeOf).toSorted()).toEqual([...Array(7).fill('already_invoiced'), 'ok']);
});

test('what is open is listed oldest first where it is to be paid', async () => {
  const account = await anAccount(business);
  const older = await desk.issued(account);
  const newer = await desk.issued(account);
  const wanted = { accountId: account.id, openOnly: true, past: null, oldestFirst: true };
  const { rows } = must(await listInvoices(world.services, business.bookkeeper, wanted));
  expect(rows.map((row) => row.number)).toEqual([older.number, newer.number]);
});

// OB-1, FEE-1 and the first invoice bear the same running number, each of its own kind.
test('a list of invoices, fees and older balances is paged by day, newest first, and loses none of them', async () => {
  const other = await aBusiness(world, { firstInvoiceNumber: 1 });
  const account = await anAccount(other);
  const items = Array.from({ length: 100 }, (_, index) => ({
    number: `OLD-${index}`,
    issuedOn: `2026-05-${String(10 + (index % 20))}`,
    dueOn: '2026-06-30',
    amount: '10.00',
  }));
  const openingId = world.newId<OpeningId>();
  const opening = { openingId, accountId: account.id, broughtOn: '2026-08-01', items, credit: '' };
  must(await bringForward(world.services, other.bookkeeper, opening));
  const invoice = await billingDesk(other).issued(account);
  const check = must(await billingDesk(other).pay({ account, amount: '5.00' }));
  must(await receiptsDesk(other).comesBack(check, { on: '2026-08-05', fee: '25.00' }));
  for (const oldestFirst of [false, true]) {
    const wanted = { accountId: account.id, openOnly: false, oldestFirst };
    const first = must(await listInvoices(world.services, other.bookkeeper, { ...wanted, past: null }));
    const next = must(await listInvoices(world.services, other.bookkeeper, { ...wanted, past: first.next }));
    expect([first.rows.length, next.rows.length, next.next]).toEqual([100, 2, null]);
    const listed = [...first.rows, ...next.rows];
    const named = [...items.map((item) => item.number), invoice.number, 'FEE-1'];
    expect(listed.map((row) => row.number).toSorted()).toEqual(named.toSorted());
    const days = listed.map((row) => row.issuedOn);
    expect(days).toEqual(oldestFirst ? days.toSorted() : days.toSorted().toReversed());
  }
});
