import { addRates } from '@grainwright/operations';
import { beforeAll, beforeEach, expect, test } from 'vitest';
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

let world: World;
let web: Web;
let business: Business;
let account: Account;

beforeAll(async () => {
  world = await openWorld();
  web = await openWeb(world);
  business = await aBusiness(world);
  account = await anAccount(business);
  const rate = {
    id: world.services.newId(),
    code: 'VC-MX',
    repair: 'Cut or tear, over 1 to 3 in',
    family: 'Vinyl cut or tear',
    overInches: '1',
    toInches: '3',
    part: 'dash',
    material: 'tpu',
    list: '260.00',
    materialsPercent: '12',
    takesFurtherRepair: true,
    repairsDamage: true,
    validFrom: '2026-01-01',
    validTo: null,
  };
  must(await addRates(world.services, business.owner, { rates: [rate] }));
});
beforeEach(() => world.at('2026-08-05T09:00'));

test('the pages show labor and materials beside list, take part and material, and make and end contracts', async () => {
  const owner = await web.signInByPage(business.emailOf('owner'), business.password);
  const book = (await owner.get('/office/price-book')).body;
  expect(book.replace(/<[^>]*>|\s+/g, ' ').replace(/ +/g, ' ')).toContain('$171.60 $23.40 12 % $195.00');
  expect(book).toContain('only dash, thermoplastic polyurethane (TPU)');
  const rate = {
    code: 'WR-D',
    repair: 'Wrinkle on a dash',
    family: 'Wrinkle',
    part: 'dash',
    material: 'foam_backed_vinyl',
    list: '120.00',
    materials_percent: '5',
    valid_from: '2026-08-01',
    repairs_damage: 'yes',
    takes_further_repair: 'yes',
  };
  const wrong = await owner.post('/office/price-book/rates/new', { ...rate, part: 'bumper' });
  expect([wrong.statusCode, wrong.body.includes('Choose the part from the list')]).toEqual([422, true]);
  expect((await owner.post('/office/price-book/rates/new', rate)).statusCode).toBe(303);
  const page = (await owner.get('/office/price-book/rates/WR-D')).body;
  expect(page).toContain('only dash, foam-backed vinyl');
  const base = `/office/accounts/${account.id}`;
  const form = { name: 'Autumn 2026', discount_percent: '20', reason: 'many', valid_from: '2026-08-01' };
  const refused = await owner.post(`${base}/contracts/new`, { ...form, discount_percent: '120' });
  expect([refused.statusCode, refused.body.includes('value="Autumn 2026"')]).toEqual([422, true]);
  expect((await owner.post(`${base}/contracts/new`, form)).statusCode).toBe(303);
  const shownOn = (await owner.get(base)).body;
  expect(shownOn).toContain('Autumn 2026');
  const end = /\/office\/price-book\/contracts\/[0-9a-f-]+\/end/.exec(shownOn)?.[0] ?? '';
  expect((await owner.get(end)).body).toContain('list less 20 %');
  const ended = await owner.post(end, { valid_to: '2026-08-31' });
  expect([ended.statusCode, ended.headers.location]).toEqual([303, `${base}#contracts`]);
});

test('the page of a tier gives it its own price and ends it', async () => {
  const owner = await web.signInByPage(business.emailOf('owner'), business.password);
  const tier = '/office/price-book/tiers/dealer';
  const form = { code: 'CM-1', price: '30.00', reason: 'asked', valid_from: '2026-08-01' };
  expect((await owner.get(`${tier}/prices/new`)).body).toContain('An own price for Dealer');
  expect((await owner.post(`${tier}/prices/new`, form)).statusCode).toBe(303);
  const again = await owner.post(`${tier}/prices/new`, form);
  expect([again.statusCode, again.body.includes('value="30.00"')]).toEqual([409, true]);
  const page = (await owner.get(tier)).body;
  expect(page).toContain('$30.00');
  const end = /\/office\/price-book\/tier-prices\/[0-9a-f-]+\/end/.exec(page)?.[0] ?? '';
  expect((await owner.post(end, { valid_to: '2026-08-31' })).headers.location).toBe(tier);
  const office = await web.signInByPage(business.emailOf('office'), business.password);
  expect((await office.get(tier)).body).not.toContain('Give an own price');
  expect((await office.get(`${tier}/prices/new`)).statusCode).toBe(403);
});
