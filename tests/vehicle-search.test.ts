import { findVehicles } from '@grainwright/operations';
import { beforeAll, expect, test } from 'vitest';
import { billingDesk, tailgate } from './support/billing-desk.ts';
import { acceptedWork } from './support/billing-world.ts';
import { openWeb, type Web } from './support/web.ts';
import {
  type Account,
  aBusiness,
  anAccount,
  type Business,
  must,
  openWorld,
  type World,
} from './support/world.ts';
import { writtenUp } from './support/write-ups.ts';

/** An invented VIN with a right check digit (49 CFR 565.15(c)): 1M8GDM9AXKP042788 is the standard’s own example. */
const vin = '1M8GDM9AXKP042788';

let world: World;
let web: Web;
let business: Business;
let lot: Account;
let other: Account;

beforeAll(async () => {
  world = await openWorld();
  web = await openWeb(world);
  business = await aBusiness(world);
  lot = await anAccount(business, { kind: 'used_car_lot', ownNumberKind: 'stock', limit: null });
  other = await anAccount(business, { limit: null });
  await writtenUp(lot, { vin, ownNumber: 'PL-254', roNumber: '48213', ownerName: 'Orrin Vasek' });
  await writtenUp(lot, {
    vin: '',
    lastEight: 'KP042788',
    ownNumber: 'PL-254',
    poNumber: '77105',
    anotherDamage: true,
  });
  await writtenUp(lot, { vin: '', lastEight: '', ownNumber: 'PL-300' });
  await writtenUp(other, { vin, ownNumber: '', roNumber: '48213-B' });
});

const found = async (text: string, actor = lot.viewer) =>
  must(await findVehicles(world.services, actor, { text, accountId: null })).rows;

test.each([
  ['the whole VIN', vin],
  ['the VIN in small letters with spaces', '1m8gdm9ax kp042788'],
  ['the last 8', 'KP042788'],
  ['an RO number', '48213'],
  ['a PO number', '77105'],
  ['a stock number', 'pl-254'],
  ['the owner’s name', 'vasek'],
])('a vehicle is found by %s, as one row with all its work orders', async (_by, text) => {
  const rows = await found(text);
  expect(rows).toHaveLength(1);
  expect(rows[0]).toMatchObject({ vin, lastEight: 'KP042788', ownerName: 'Orrin Vasek' });
  expect(rows[0]?.workOrders).toHaveLength(2);
});

test('a vehicle that is known by its stock number alone is a row of its own', async () => {
  const [row] = await found('PL-300');
  expect(row).toMatchObject({ vin: null, lastEight: null });
  expect(row?.workOrders).toHaveLength(1);
});

test('an account finds its own work on a vehicle that others have had too; the business finds each', async () => {
  expect(await found(vin, other.viewer)).toHaveLength(1);
  const all = await found(vin, business.office);
  expect(all.map((row) => [row.accountId, row.workOrders.length])).toEqual([
    [other.id, 1],
    [lot.id, 2],
  ]);
  const foreign = { text: vin, accountId: other.id };
  const own = must(await findVehicles(world.services, lot.viewer, foreign)).rows;
  expect(own.map((row) => row.accountId)).toEqual([lot.id]);
});

test('a row leads to the invoice and shows before and after; who may see no invoice sees none', async () => {
  const account = await anAccount(business, { limit: null });
  const work = await acceptedWork(account, { codes: tailgate, ownerName: 'Ysolde Pell' });
  const invoice = must(await billingDesk(business).issue([work]));
  const [row] = await found('ysolde', account.viewer);
  expect(row?.workOrders[0]?.invoice).toEqual({ id: invoice.id, number: invoice.number });
  const [seenByTechnician] = await found('ysolde', business.technician);
  expect(seenByTechnician?.workOrders[0]?.invoice).toBeNull();
  const viewer = await web.signInByPage(account.emailOf('viewer'), business.password);
  const page = await viewer.get('/account/vehicles?q=ysolde');
  expect(page.body).toContain(`/account/invoices/${invoice.id}`);
  const headers = await web.signIn(account.emailOf('viewer'), business.password);
  const api = await web.app.inject({ method: 'GET', url: '/api/v1/vehicles?text=ysolde', headers });
  expect(api.json()).toMatchObject({ vehicles: [{ owner_name: 'Ysolde Pell' }], next: null });
});

test('a list of many vehicles goes on at the next page without leaving one out or telling one twice', async () => {
  const fleet = await anAccount(business, { ownNumberKind: 'unit', limit: null });
  for (let unit = 1; unit <= 33; unit += 1) await writtenUp(fleet, { vin: '', ownNumber: `U-${unit}` });
  const first = must(await findVehicles(world.services, fleet.viewer, { text: '', accountId: null }));
  expect([first.rows.length, first.next !== null]).toEqual([30, true]);
  const below = first.next ?? undefined;
  const rest = must(await findVehicles(world.services, fleet.viewer, { text: '', accountId: null, below }));
  expect([rest.rows.length, rest.next]).toEqual([3, null]);
  const numbers = [...first.rows, ...rest.rows].map((row) => row.workOrders[0]?.numbers);
  expect(new Set(numbers).size).toBe(33);
});

test('nothing that fits is said in words, and the office searches from its work orders', async () => {
  const viewer = await web.signInByPage(lot.emailOf('viewer'), business.password);
  expect((await viewer.get('/account/vehicles?q=%25')).body).toContain('No vehicle fits');
  const office = await web.signInByPage(business.emailOf('office'), business.password);
  expect((await office.get('/office/work-orders')).body).toContain('href="/office/vehicles"');
  expect((await office.get(`/office/vehicles?q=${vin}`)).body).toContain('PL-254');
});
