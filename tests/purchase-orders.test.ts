import { type CreditNoteId, formatMinor, type PurchaseOrderId, type WorkOrderId } from '@grainwright/domain';
import {
  addPurchaseOrder,
  changePurchaseOrder,
  changeWriteUp,
  giveNumbers,
  issueCreditNote,
  listPurchaseOrders,
  readWorkOrder,
  voidInvoice,
} from '@grainwright/operations';
import { beforeAll, beforeEach, expect, test } from 'vitest';
import { type billingDesk, codeOf, billingDesk as deskOf, tailgate } from './support/billing-desk.ts';
import { type AcceptedWork, acceptedWork } from './support/billing-world.ts';
import {
  type Account,
  aBusiness,
  anAccount,
  type Business,
  must,
  openWorld,
  type World,
} from './support/world.ts';

// Each invoice is the tailgate lining of 284.90 of the agreed demo figures; caps and what is left are sums by hand.

let world: World;
let business: Business;
let desk: ReturnType<typeof billingDesk>;

beforeAll(async () => {
  world = await openWorld();
  business = await aBusiness(world);
  desk = deskOf(business);
});
beforeEach(() => world.at('2026-08-05T09:00'));

async function ordered(account: Account, number: string, cap: string | null, validTo: string | null = null) {
  const id = world.newId<PurchaseOrderId>();
  const input = { id, accountId: account.id, number, cap, validFrom: '2026-08-01', validTo, note: '' };
  must(await addPurchaseOrder(world.services, business.office, input));
  return id;
}

/** Accepted work of the tailgate lining, with the purchase order that a contact gave afterwards. */
async function workOn(account: Account, poNumber: string): Promise<AcceptedWork> {
  const work = await acceptedWork(account, { codes: tailgate });
  await give(account, work.id, poNumber);
  return work;
}

const give = async (account: Account, workOrderId: WorkOrderId, poNumber: string) =>
  must(
    await giveNumbers(world.services, account.payer, { workOrderId, ownNumber: '', roNumber: '', poNumber }),
  );

const left = async (account: Account, number: string) =>
  must(await listPurchaseOrders(world.services, account.viewer, account.id)).orders.find(
    (order) => order.number === number,
  )?.leftMinor ?? null;

test('the cap of a purchase order holds over all invoices with its number, and a raised one has room again', async () => {
  const account = await anAccount(business, { requiresPo: true });
  const id = await ordered(account, '77105', '650.00');
  const first = await workOn(account, '77105');
  expect(formatMinor((await left(account, '77105')) ?? 0n)).toBe('650.00');
  must(await desk.issue([first]));
  expect(formatMinor((await left(account, '77105')) ?? 0n)).toBe('365.10');
  must(await desk.issue([await workOn(account, '77105')]));
  const third = await workOn(account, '77105');
  expect(formatMinor((await left(account, '77105')) ?? 0n)).toBe('80.20');
  expect(codeOf(await desk.issue([third]))).toBe('over_purchase_order');
  const change = { id, accountId: account.id, validTo: null, note: 'raised by telephone' };
  must(await changePurchaseOrder(world.services, business.office, { ...change, cap: '900.00' }));
  must(await desk.issue([third]));
  const list = must(await listPurchaseOrders(world.services, account.viewer, account.id));
  expect(list.orders.map((each) => [each.number, each.invoicedMinor, each.leftMinor])).toEqual([
    ['77105', 85470n, 4530n],
  ]);
});

test('a number that is on no file, or has no cap, is never used up', async () => {
  const account = await anAccount(business);
  await ordered(account, '77106', null);
  must(await desk.issue([await workOn(account, '77106')]));
  expect([await left(account, '77106'), await left(account, 'unknown')]).toEqual([null, null]);
});

test('a work order shows what its purchase order still allows, to whoever may see invoices', async () => {
  const account = await anAccount(business, { requiresPo: true });
  await ordered(account, '77107', '300.00', '2026-08-04');
  const work = await acceptedWork(account, { codes: tailgate });
  const given = await give(account, work.id, '77107');
  expect(given.missingNumbers).toEqual([]);
  expect(given.purchaseOrder).toMatchObject({ number: '77107', leftMinor: 30000n, standing: 'ended' });
  const seenBy = async (actor: typeof business.office) =>
    must(await readWorkOrder(world.services, actor, work.id)).purchaseOrder?.leftMinor ?? null;
  expect([await seenBy(business.office), await seenBy(business.technician)]).toEqual([30000n, null]);
});

test('a purchase order is filed once by its number; the same request again is the same one', async () => {
  const account = await anAccount(business);
  const id = await ordered(account, '77108', '100.00');
  const again = { accountId: account.id, number: '77108', validFrom: '2026-08-01', validTo: null, note: '' };
  const add = (change: object, actor = business.office) =>
    addPurchaseOrder(world.services, actor, { ...again, id, cap: '100.00', ...change });
  expect(codeOf(await add({}))).toBe('ok');
  expect(codeOf(await add({ cap: '120.00' }))).toBe('id_reused');
  expect(codeOf(await add({ id: world.newId<PurchaseOrderId>() }))).toBe('duplicate');
  expect(codeOf(await add({ id: world.newId<PurchaseOrderId>(), number: 'X', cap: '0' }))).toBe(
    'invalid_money',
  );
  expect(codeOf(await add({}, business.technician))).toBe('not_allowed');
  const other = await anAccount(business);
  const change = { id, accountId: other.id, cap: null, validTo: null, note: '' };
  expect(codeOf(await changePurchaseOrder(world.services, business.office, change))).toBe('not_found');
});

test('a repair order that is on an earlier invoice is told before it is billed again', async () => {
  const account = await anAccount(business, { requiresRo: true });
  const first = await acceptedWork(account, { codes: tailgate, roNumber: '48213' });
  const invoice = must(await desk.issue([first]));
  const second = await acceptedWork(account, { codes: tailgate, roNumber: '48213' });
  const seen = must(await readWorkOrder(world.services, account.viewer, second.id)).earlierWithRo;
  expect(seen).toMatchObject([{ invoiceId: invoice.id, number: invoice.number, workOrderId: first.id }]);
  const other = await anAccount(business, { requiresRo: true });
  const elsewhere = await acceptedWork(other, { codes: tailgate, roNumber: '48213' });
  expect(must(await readWorkOrder(world.services, business.office, elsewhere.id)).earlierWithRo).toEqual([]);
});

test('a credit and a void give room on the purchase order back', async () => {
  const account = await anAccount(business);
  await ordered(account, '77109', '300.00');
  const first = must(await desk.issue([await workOn(account, '77109')]));
  expect(formatMinor((await left(account, '77109')) ?? 0n)).toBe('15.10');
  const { services } = world;
  const wrinkle = first.vehicles[0]?.lines.find((line) => line.code === 'WR-1');
  if (wrinkle?.lineId == null) throw new Error('the wrinkle is on the invoice');
  const credit = {
    creditNoteId: world.newId<CreditNoteId>(),
    invoiceId: first.id,
    reason: 'not done',
    lines: [{ kind: 'dropped' as const, lineId: wrinkle.lineId }],
    charges: [],
    certificateIds: [],
    issuedOn: null,
    apply: true,
  };
  const note = must(await issueCreditNote(services, business.bookkeeper, credit));
  expect(await left(account, '77109')).toBe(1510n + note.totalMinor);
  const other = await anAccount(business);
  await ordered(other, '77110', '300.00');
  const second = must(await desk.issue([await workOn(other, '77110')]));
  const mistaken = { invoiceId: second.id, reason: 'issued to the wrong order' };
  must(await voidInvoice(services, business.bookkeeper, mistaken));
  expect(formatMinor((await left(other, '77110')) ?? 0n)).toBe('300.00');
});

test('an invoice is refused where its purchase order does not count on the day of the work, and takes another', async () => {
  const account = await anAccount(business);
  await ordered(account, '77111', null, '2026-08-04');
  const late = await workOn(account, '77111');
  const refused = await desk.issue([late]);
  expect(codeOf(refused)).toBe('dates_out_of_order');
  expect(refused.ok ? '' : refused.problem.detail).toBe(
    'PO 77111 counts from Aug 1, 2026 to Aug 4, 2026, and the work is of Aug 5, 2026. Ask the account for another PO.',
  );
  await ordered(account, '77112', '300.00');
  const replaced = { workOrderId: late.id, poNumber: '77112' };
  must(await changeWriteUp(world.services, business.office, replaced));
  const again = { ...replaced, poNumber: '77113' };
  expect(codeOf(await changeWriteUp(world.services, business.office, again))).toBe('wrong_state');
  must(await desk.issue([late]));
});
