import type { DisputeId, InvoiceId, PaymentId } from '@grainwright/domain';
import { issueInvoice, openDispute, recordDeposit, recordPayment } from '@grainwright/operations';
import { beforeAll, expect, test } from 'vitest';
import { acceptedWork } from './support/billing-world.ts';
import { openWeb, type Web } from './support/web.ts';
import { writtenUpLine } from './support/work-in-hand.ts';
import {
  type Account,
  aBusiness,
  anAccount,
  type Business,
  must,
  openWorld,
  type World,
} from './support/world.ts';

let world: World;
let web: Web;
let business: Business;
let account: Account;

beforeAll(async () => {
  world = await openWorld();
  web = await openWeb(world);
  business = await aBusiness(world);
  account = await anAccount(business);
});

const plain = (body: string) => body.replaceAll(/<head>.*?<\/head>|<[^>]*>/gs, ' ').replaceAll(/\s+/g, ' ');

test('an account that bought nothing yet says so in each of its parts', async () => {
  const office = await web.signInByPage(business.emailOf('office'), business.password);
  const page = plain((await office.get(`/office/accounts/${account.id}`)).body);
  for (const words of ['Balance $0.00', 'Nothing open', 'Nothing is under way.', 'No payment yet'])
    expect(page).toContain(words);
});

test('the account’s page tells balance, disputes, deposits, work under way and what was paid last', async () => {
  const { services } = world;
  const { bookkeeper } = business;
  world.at('2026-08-05T09:00');
  const work = await acceptedWork(account, { codes: ['VC-M'] });
  const invoiceId = world.newId<InvoiceId>();
  must(await issueInvoice(services, bookkeeper, { invoiceId, workOrderIds: [work.id] }));
  await writtenUpLine(account);
  const money = { accountId: account.id, method: 'check', receivedOn: '2026-08-10' } as const;
  world.at('2026-09-05T09:00');
  must(
    await recordPayment(services, bookkeeper, {
      paymentId: world.newId<PaymentId>(),
      ...money,
      amount: '100.00',
      reference: '1141',
      applications: [{ invoiceId, amount: '100.00' }],
    }),
  );
  must(
    await recordDeposit(services, bookkeeper, {
      paymentId: world.newId<PaymentId>(),
      workOrderId: null,
      ...money,
      amount: '50.00',
      reference: '1142',
    }),
  );
  must(
    await openDispute(services, bookkeeper, {
      disputeId: world.newId<DisputeId>(),
      invoiceId,
      lineId: null,
      amount: '45.00',
      reason: 'disputed',
      note: 'no trip was agreed',
      on: '2026-09-01',
    }),
  );
  const seen = await web.signInByPage(business.emailOf('bookkeeper'), business.password);
  const page = plain((await seen.get(`/office/accounts/${account.id}`)).body);
  // 165.75, a trip of 45.00 and 1.24 of tax are 211.99; net 15 from August 5 is 16 days past due on September 5.
  for (const words of [
    'Balance $111.99',
    'Past due $111.99',
    'In dispute $45.00',
    'Deposits held $50.00',
    'INV-2001 Aug 5, 2026 Aug 20, 2026 16 days $45.00 $111.99',
    '1 for the technician',
    'check 1141 Aug 10, 2026 INV-2001 $100.00',
  ])
    expect(page).toContain(words);
});

test('whoever does not see the money sees the rest of the account', async () => {
  const technician = await web.signInByPage(business.emailOf('technician'), business.password);
  const page = plain((await technician.get(`/office/accounts/${account.id}`)).body);
  expect(page).not.toContain('Balance');
  expect(page).not.toContain('$111.99');
  expect(page).toContain('How they buy');
});
