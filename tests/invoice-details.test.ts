import type { InvoiceId, WorkOrderId } from '@grainwright/domain';
import { issueInvoice, listReadyToInvoice } from '@grainwright/operations';
import { beforeAll, beforeEach, expect, test } from 'vitest';
import { codeOf } from './support/billing-desk.ts';
import { acceptedWork } from './support/billing-world.ts';
import { aBusiness, anAccount, type Business, must, openWorld, type World } from './support/world.ts';

/** What stands on an invoice besides its work: its day, whom it is written to, whose numbers. Common practice, no source. */

let world: World;
let business: Business;

beforeAll(async () => {
  world = await openWorld();
  business = await aBusiness(world);
});
beforeEach(() => world.at('2026-08-05T09:00'));

const issue = (workOrderIds: readonly WorkOrderId[], issuedOn?: string) =>
  issueInvoice(world.services, business.bookkeeper, {
    invoiceId: world.newId<InvoiceId>(),
    workOrderIds,
    issuedOn,
  });

test('an invoice bears a day from the last acceptance to today, and is due from it', async () => {
  const account = await anAccount(business);
  const work = await acceptedWork(account, { codes: ['VC-M'] });
  world.at('2026-08-09T09:00');
  expect(codeOf(await issue([work.id], '2026-08-10'))).toBe('invalid_date');
  expect(codeOf(await issue([work.id], '2026-08-04'))).toBe('invalid_date');
  const invoice = must(await issue([work.id], '2026-08-06'));
  expect([invoice.issuedOn, invoice.dueOn]).toEqual(['2026-08-06', '2026-08-21']);
  const atPickup = await anAccount(business, { termsDays: 0 });
  const paidThere = await acceptedWork(atPickup, { codes: ['VC-M'] });
  expect(must(await issue([paidThere.id])).dueOn).toBe('2026-08-09');
});

test('whoever came in is written to by name, and the house account stays the one that owes', async () => {
  const house = await anAccount(business, {
    name: 'Walk-in customers',
    kind: 'retail',
    tierCode: 'retail',
    taxAreaCode: 'B',
    termsDays: 0,
    limit: null,
    walkIn: true,
    photoRule: 'retail',
  });
  const work = await acceptedWork(house, {
    sameVisitAs: house,
    codes: ['VC-S'],
    ownerName: 'Perpetua Lind',
    walkAround: true,
  });
  const invoice = must(await issue([work.id]));
  // Agreed: 150.00 with its minimum, state 8.25 and local 1.50.
  expect([invoice.totalMinor, invoice.taxes.map((tax) => tax.taxMinor)]).toEqual([15975n, [825n, 150n]]);
  expect([invoice.buyer.name, invoice.accountName]).toEqual(['Perpetua Lind', 'Walk-in customers']);
});

test('an RO that is on an invoice already is pointed out before another one is issued', async () => {
  const account = await anAccount(business, { tierCode: 'dealer', requiresRo: true });
  const first = must(await issue([(await acceptedWork(account, { codes: ['SC-S'], roNumber: '48102' })).id]));
  await acceptedWork(account, { codes: ['SC-S'], roNumber: '48102' });
  const { invoices } = must(
    await listReadyToInvoice(world.services, business.bookkeeper, { accountId: account.id }),
  );
  expect(invoices.flatMap((invoice) => invoice.workOrders.map((each) => each.roInvoicedOn))).toEqual([
    [first.number],
  ]);
});
