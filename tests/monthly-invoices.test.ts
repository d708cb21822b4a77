import type { CertificateId, InvoiceId, MonthClosingId, PurchaseOrderId } from '@grainwright/domain';
import {
  addCertificate,
  addPurchaseOrder,
  changeAccount,
  checkLedger,
  closeMonth,
  giveNumbers,
  type InvoiceView,
  issueInvoice,
  issueReady,
  listReadyToInvoice,
  voidInvoice,
} from '@grainwright/operations';
import { beforeAll, beforeEach, expect, test } from 'vitest';
import { codeOf } from './support/billing-desk.ts';
import { type AcceptedWorkOptions, acceptedWork } from './support/billing-world.ts';
import {
  type Account,
  type AccountOptions,
  aBusiness,
  anAccount,
  type Business,
  must,
  openWorld,
  type World,
} from './support/world.ts';

/** Invented accounts; rules of common practice, no source. Figures named “agreed” are the agreed demo figures. */

let world: World;
let business: Business;

beforeAll(async () => {
  world = await openWorld();
  business = await aBusiness(world);
});
beforeEach(() => world.at('2026-10-02T10:00'));

const monthly: AccountOptions = { invoiceRule: 'monthly', limit: null, acceptanceRule: 'none' };

const worked = (account: Account, options: AcceptedWorkOptions) =>
  acceptedWork(account, { sameVisitAs: account, ...options });

const run = (account: Account, through?: string, issuedOn?: string) =>
  issueReady(world.services, business.bookkeeper, { through, issuedOn, accountIds: [account.id] });

async function waitsOf(account: Account) {
  const list = must(await listReadyToInvoice(world.services, business.bookkeeper, { accountId: account.id }));
  return list.invoices.map((invoice) => [
    invoice.month,
    invoice.workOrders.length,
    invoice.waits?.for ?? 'nothing',
  ]);
}

const charges = (invoice: InvoiceView | undefined, kind: string) =>
  invoice?.charges.filter((line) => line.kind === kind).map((line) => line.netMinor);

// A dealer’s two visits, agreed: 337.88 within the certificate’s days and 612.59 after them, 950.47 together.
test('a month on one invoice taxes each visit by the certificate of its own day, trip and after-hours by visit', async () => {
  const account = await anAccount(business, {
    ...monthly,
    kind: 'new_car_dealer',
    tierCode: 'dealer',
    termsDays: 30,
    certificate: { kind: 'resale', number: 'KV-RS-10488', validFrom: '2026-01-01', validTo: '2026-10-05' },
  });
  await worked(account, { codes: ['LT-M', 'SC-S'], afterHours: true, roNumber: '48177' });
  world.at('2026-10-14T17:40');
  await worked(account, {
    codes: ['LT-L/perf', 'DB-M', 'LW-P', 'SC-S'],
    declined: [1],
    afterHours: true,
    roNumber: '48213',
  });
  expect(await waitsOf(account)).toEqual([['2026-10', 2, 'month_end']]);
  expect(must(await run(account)).issued).toEqual([]);
  world.at('2026-11-02T09:00');
  const [invoice] = must(await run(account, '2026-10-31', '2026-11-01')).issued;
  expect(invoice).toMatchObject({ totalMinor: 95047n, issuedOn: '2026-11-01', dueOn: '2026-12-01' });
  expect(invoice?.vehicles.map((vehicle) => vehicle.subtotalMinor)).toEqual([23288n, 48657n]);
  expect([charges(invoice, 'after_hours'), charges(invoice, 'trip')]).toEqual([[6000n, 12164n], [4500n]]);
  expect(invoice?.taxes.map((tax) => [tax.baseMinor, tax.taxMinor])).toEqual([
    [7009n, 350n],
    [7009n, 88n],
  ]);
  expect(invoice?.visits.map((visit) => [visit.workedOn, visit.certificateNumber])).toEqual([
    ['2026-10-02', 'KV-RS-10488'],
    ['2026-10-14', ''],
  ]);
  expect(invoice?.certificateNumber).toBe('KV-RS-10488');
  expect(must(await run(account, '2026-10-31')).issued).toEqual([]);
});

// Agreed for the first: 284.90 with 1.18 and 0.29 on 23.52 in area A. The second is 125.00 and 45.00 trip, all taxed in
// area B at 5.50 % and 1.00 %: 9.35 and 1.70.
test('an account that moved to another tax area within the month is taxed in each where the work was done', async () => {
  const account = await anAccount(business, monthly);
  await worked(account, { codes: ['WR-1', 'VC-M'] });
  must(await changeAccount(world.services, business.office, { id: account.id, taxAreaCode: 'B' }));
  world.at('2026-10-20T10:00');
  await worked(account, { codes: ['BN-S'] });
  world.at('2026-10-31T18:00');
  const [invoice] = must(await run(account)).issued;
  expect(invoice?.taxes.map((tax) => [tax.areaCode, tax.component, tax.baseMinor, tax.taxMinor])).toEqual([
    ['A', 'State', 2352n, 118n],
    ['A', 'Local', 2352n, 29n],
    ['B', 'State', 17000n, 935n],
    ['B', 'Local', 17000n, 170n],
  ]);
  expect([invoice?.totalMinor, charges(invoice, 'trip')]).toEqual([46595n, [4500n, 4500n]]);
});

test('what lacks a number is left for the next run, and the rest of the month is issued', async () => {
  const account = await anAccount(business, { ...monthly, requiresPo: true });
  const without = await worked(account, { codes: ['BN-S'] });
  await worked(account, { codes: ['VC-M'], poNumber: '500' });
  world.at('2026-10-31T18:00');
  expect(await waitsOf(account)).toEqual([
    ['2026-10', 1, 'numbers'],
    ['2026-10', 1, 'nothing'],
  ]);
  const first = must(await run(account));
  // 165.75 and its trip; 19.89 of materials taxed: 0.99 and 0.25.
  expect(first.issued.map((invoice) => invoice.totalMinor)).toEqual([21199n]);
  expect(first.waiting.map((invoice) => invoice.waits?.for)).toEqual(['numbers']);
  const numbers = { workOrderId: without.id, ownNumber: '', roNumber: '', poNumber: '501' };
  must(await giveNumbers(world.services, account.approver, numbers));
  const [second] = must(await run(account)).issued;
  // The visit’s trip is on the first one.
  expect(charges(second, 'trip')).toEqual([]);
});

test('months stay apart, and work of a month that runs waits for its end', async () => {
  const account = await anAccount(business, monthly);
  world.at('2026-09-10T10:00');
  await worked(account, { codes: ['BN-S'] });
  world.at('2026-10-02T10:00');
  await worked(account, { codes: ['BN-S'] });
  expect(await waitsOf(account)).toEqual([
    ['2026-09', 1, 'nothing'],
    ['2026-10', 1, 'month_end'],
  ]);
  expect(must(await run(account)).issued.map((invoice) => invoice.workedOn)).toEqual(['2026-09-10']);
  expect(codeOf(await run(account, '2026-10-31'))).toBe('invalid_date');
});

test('a PO with a cap refuses the run its invoice, names what is missing, and is left alone by what carries another', async () => {
  const account = await anAccount(business, { requiresPo: true, limit: null });
  const order = { accountId: account.id, validFrom: '2026-01-01', validTo: null, note: '' };
  must(
    await addPurchaseOrder(world.services, business.office, {
      ...order,
      id: world.newId<PurchaseOrderId>(),
      number: '77105',
      cap: '300.00',
    }),
  );
  await acceptedWork(account, { codes: ['WR-1', 'VC-M'], poNumber: '77105' });
  expect(must(await run(account)).issued.map((invoice) => invoice.totalMinor)).toEqual([28490n]);
  const over = await acceptedWork(account, { codes: ['VC-M'], poNumber: '77105' });
  await acceptedWork(account, { codes: ['VC-M'], poNumber: '77106' });
  const next = must(await run(account));
  expect(next.issued.map((invoice) => invoice.numbers)).toEqual([['PO 77106']]);
  expect(next.refused.map(({ problem }) => [problem.code, problem.detail])).toEqual([
    [
      'over_purchase_order',
      'PO 77105 allows 300.00 USD. 284.90 USD of it is invoiced and this comes to 211.99 USD, 196.89 USD too much. Ask the account to raise it.',
    ],
  ]);
  const refused = await issueInvoice(world.services, business.bookkeeper, {
    invoiceId: world.newId<InvoiceId>(),
    workOrderIds: [over.id],
  });
  expect(codeOf(refused)).toBe('over_purchase_order');
});

test('an invoice is not dated into a month whose books are closed, and its number goes back', async () => {
  const other = await aBusiness(world, { firstInvoiceNumber: 701 });
  const account = await anAccount(other);
  world.at('2026-08-05T09:00');
  const work = await acceptedWork(account, { codes: ['BN-S'] });
  world.at('2026-09-02T09:00');
  must(
    await closeMonth(world.services, other.owner, {
      closingId: world.newId<MonthClosingId>(),
      month: '2026-08',
    }),
  );
  const issue = (issuedOn: string) =>
    issueInvoice(world.services, other.bookkeeper, {
      invoiceId: world.newId<InvoiceId>(),
      workOrderIds: [work.id],
      issuedOn,
    });
  const closed = await issue('2026-08-31');
  expect(closed).toMatchObject({ ok: false, problem: { code: 'month_closed', field: 'issued_on' } });
  expect(must(await issue('2026-09-01')).number).toBe('INV-0701');
});

test('a void invoice of a month frees its work, fees and trip for the next one', async () => {
  const account = await anAccount(business, monthly);
  await worked(account, { codes: ['WR-1', 'VC-M'] });
  world.at('2026-10-20T10:00');
  await worked(account, { codes: ['BN-S'] });
  world.at('2026-10-31T18:00');
  const [first] = must(await run(account)).issued;
  if (first === undefined) throw new Error('nothing was issued');
  must(
    await voidInvoice(world.services, business.bookkeeper, { invoiceId: first.id, reason: 'wrong address' }),
  );
  const [second] = must(await run(account)).issued;
  expect([second?.totalMinor, charges(second, 'trip')]).toEqual([first.totalMinor, [4500n, 4500n]]);
  expect(second?.number).not.toBe(first.number);
});

test('a certificate furnished in the month exempts the work from its first day on', async () => {
  const account = await anAccount(business, monthly);
  await worked(account, { codes: ['WR-1', 'VC-M'] });
  must(
    await addCertificate(world.services, business.office, {
      id: world.newId<CertificateId>(),
      accountId: account.id,
      kind: 'exempt_use',
      number: 'KV-EX-7',
      validFrom: '2026-10-03',
      validTo: null,
    }),
  );
  world.at('2026-10-09T10:00');
  await worked(account, { codes: ['VC-M'] });
  world.at('2026-10-31T18:00');
  const [invoice] = must(await run(account)).issued;
  expect(invoice?.taxes.map((tax) => tax.baseMinor)).toEqual([2352n, 2352n]);
  expect(invoice?.visits.map((visit) => visit.certificateKind)).toEqual([null, 'exempt_use']);
});

test('the books hold after all of it', async () => {
  expect(must(await checkLedger(world.services, business.tenantId)).faults).toEqual([]);
});
