import type { LineId, VisitId, WorkOrderId } from '@grainwright/domain';
import {
  addCareFactor,
  addLine,
  addRates,
  addTier,
  type ChangeTierInput,
  changeCareFactor,
  changeRate,
  changeTier,
  endPrice,
  readPriceBook,
  readWorkOrder,
} from '@grainwright/operations';
import { beforeAll, beforeEach, expect, test } from 'vitest';
import { openWeb, type Web } from './support/web.ts';
import { photographed } from './support/work-in-hand.ts';
import {
  type Account,
  aBusiness,
  anAccount,
  type Business,
  must,
  openWorld,
  type World,
} from './support/world.ts';
import { aLine, sent, writtenUp } from './support/write-ups.ts';

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
beforeEach(() => world.at('2026-08-05T09:00'));

type Change = Parameters<typeof changeRate>[2];

const change = (given: Partial<Change> & Pick<Change, 'code' | 'validFrom'>) =>
  changeRate(world.services, business.owner, {
    id: world.services.newId(),
    repair: 'Cut in vinyl, over 1 to 3 in',
    list: '205.00',
    materialsPercent: '12',
    ...given,
  });
const book = async (on: string | null = null) =>
  must(await readPriceBook(world.services, business.owner, { on: on as never }));
const periodsOf = async (code: string) =>
  (await book()).rates
    .filter((rate) => rate.code === code)
    .map((rate) => [rate.validFrom, rate.validTo, rate.listMinor]);

test('a rate changed from a coming day on ends what it was the day before, and keeps sizes and family', async () => {
  must(await change({ code: 'VC-M', validFrom: '2027-01-01' }));
  // 195.00 until now: the invented price list; common practice, no source.
  expect(await periodsOf('VC-M')).toEqual([
    ['2026-01-01', '2026-12-31', 19500n],
    ['2027-01-01', null, 20500n],
  ]);
  const [before, after] = (await book()).rates.filter((rate) => rate.code === 'VC-M');
  expect([after?.family, after?.overInches, after?.toInches]).toEqual([
    before?.family,
    before?.overInches,
    before?.toInches,
  ]);
  // Trade pays 85 % of 205.00.
  expect(after?.tierPricesMinor[1]).toBe(17425n);
});

test('the same change sent again changes nothing; with another price it is refused', async () => {
  const id = world.services.newId();
  must(await change({ id, code: 'LT-M', validFrom: '2027-01-01' }));
  must(await change({ id, code: 'LT-M', validFrom: '2027-01-01' }));
  expect(await change({ id, code: 'LT-M', validFrom: '2027-01-01', list: '206.00' })).toMatchObject({
    problem: { code: 'id_reused' },
  });
  expect(await periodsOf('LT-M')).toHaveLength(2);
});

test('a change before a coming one, or today, is refused with a sentence that names both periods', async () => {
  must(await change({ code: 'PU-M', validFrom: '2027-01-01' }));
  const earlier = await change({ code: 'PU-M', validFrom: '2026-10-01' });
  if (earlier.ok) throw new Error('it was changed');
  expect(earlier.problem).toMatchObject({ code: 'duplicate', field: 'valid_from' });
  expect(earlier.problem.detail).toContain('from Jan 1, 2027 on');
  expect(earlier.problem.detail).toContain('from Oct 1, 2026 on');
  expect(await change({ code: 'PU-L', validFrom: '2026-08-05' })).toMatchObject({
    problem: { code: 'dates_out_of_order', field: 'valid_from' },
  });
  must(await change({ code: 'PU-L', validFrom: '2026-08-06' }));
});

test('a rate that ends is followed the day after, and days without a price between are refused', async () => {
  const [rate] = (await book()).rates.filter((each) => each.code === 'FB-M');
  if (rate === undefined) throw new Error('no such rate');
  const end = (id: string, validTo: string) =>
    endPrice(world.services, business.owner, { kind: 'rate', id, validTo });
  must(await end(rate.id, '2026-12-31'));
  const gap = await change({ code: 'FB-M', validFrom: '2027-02-01' });
  if (gap.ok) throw new Error('it was changed');
  expect(gap.problem.code).toBe('dates_out_of_order');
  expect(gap.problem.detail).toContain('from Jan 1 to Dec 31, 2026');
  expect(gap.problem.detail).toContain('from Feb 1, 2027 on');
  expect(gap.problem.detail).toContain('from Jan 1 to Jan 31, 2027 there would be no rate');
  const added = await addRates(world.services, business.owner, {
    rates: [
      {
        id: world.services.newId(),
        code: 'FB-M',
        repair: rate.repair,
        family: rate.family,
        overInches: '0.5',
        toInches: '1.5',
        part: null,
        material: null,
        list: '130.00',
        materialsPercent: '8',
        takesFurtherRepair: true,
        repairsDamage: true,
        validFrom: '2027-02-01',
        validTo: null,
      },
    ],
  });
  expect(added).toMatchObject({ problem: { code: 'dates_out_of_order' } });
  must(await change({ code: 'FB-M', validFrom: '2027-01-01' }));
  expect(await end(rate.id, '2026-11-30')).toMatchObject({
    problem: { code: 'dates_out_of_order', field: 'valid_to' },
  });
});

test('two owners who change one rate at once: one is told', async () => {
  const answers = await Promise.all(
    ['2027-01-01', '2027-01-01'].map((validFrom) => change({ code: 'DB-M', validFrom })),
  );
  expect(answers.map((answer) => (answer.ok ? 'changed' : answer.problem.code)).toSorted()).toEqual([
    'changed',
    'duplicate',
  ]);
});

test('only the owner changes a rate, a tier or a factor', async () => {
  for (const actor of [business.office, business.technician, business.bookkeeper, account.approver]) {
    const id = world.services.newId();
    const at = { validFrom: '2027-01-01' };
    const answers = [
      await changeRate(world.services, actor, {
        id,
        code: 'CM-1',
        repair: 'Mix',
        list: '1',
        materialsPercent: '0',
        ...at,
      }),
      await changeTier(world.services, actor, { id, ...tier, ...at }),
      await changeCareFactor(world.services, actor, { id, code: 'new', percent: '120', ...at }),
    ];
    for (const answer of answers) expect(answer).toMatchObject({ problem: { code: 'not_allowed' } });
  }
});

const tier: Omit<ChangeTierInput, 'id' | 'validFrom'> = {
  code: 'trade',
  discountPercent: '20',
  vehicleMinimum: '130.00',
  tripWaivedFrom: '450.00',
};

async function estimated(day: string, rateCode: string, factorCode = '') {
  const id = await writtenUp(account, { visitId: world.newId<VisitId>(), day });
  const lineId = world.newId<LineId>();
  const line = aLine({ rateCode, factorCode });
  must(await addLine(world.services, business.technician, { lineId, workOrderId: id, line }));
  await photographed(account, id, lineId, 'before');
  return id;
}
const priceOf = async (id: WorkOrderId) =>
  must(await readWorkOrder(world.services, business.office, id)).estimate?.price.vehicle;

test('work is priced by the tier and factor of its rate day; an estimate keeps its own when they change', async () => {
  must(await addTier(world.services, business.owner, { ...tier, code: 'gold', name: 'Gold' }));
  must(await addCareFactor(world.services, business.owner, { code: 'silk', name: 'Silk', percent: '110' }));
  const before = await estimated('2026-08-05', 'KF-1');
  const sewn = await estimated('2026-08-05', 'SW-S', 'new');
  await sent(account, sewn);
  // Trade −15 % of 47.00 is 39.95, lifted to 125.00; SW-S 165.00 × 1.10 = 181.50, less 15 % 154.28 (154.275).
  expect((await priceOf(before))?.repairsMinor).toBe(12500n);
  expect((await priceOf(sewn))?.repairsMinor).toBe(15428n);
  must(
    await changeTier(world.services, business.owner, {
      id: world.services.newId(),
      ...tier,
      validFrom: '2026-09-01',
    }),
  );
  must(
    await changeCareFactor(world.services, business.owner, {
      id: world.services.newId(),
      code: 'new',
      percent: '120',
      validFrom: '2026-09-01',
    }),
  );
  world.at('2026-09-02T09:00');
  expect((await priceOf(before))?.repairsMinor).toBe(12500n);
  expect((await priceOf(sewn))?.repairsMinor).toBe(15428n);
  // From September: 165.00 × 1.20 = 198.00, less 20 % 158.40; the minimum is 130.00.
  expect((await priceOf(await estimated('2026-09-02', 'SW-S', 'new')))?.repairsMinor).toBe(15840n);
  expect((await priceOf(await estimated('2026-09-02', 'KF-1')))?.repairsMinor).toBe(13000n);
});

test('a tier and a factor hold from the start, and one period follows the other', async () => {
  const { tiers, factors } = await book();
  expect(
    tiers.find((each) => each.code === 'trade')?.terms.map((each) => [each.validFrom, each.validTo]),
  ).toEqual([
    ['1900-01-01', '2026-08-31'],
    ['2026-09-01', null],
  ]);
  expect(factors.find((each) => each.code === 'new')?.percents.map((each) => each.validFrom)).toEqual([
    '1900-01-01',
    '2026-09-01',
  ]);
  const clash = await changeTier(world.services, business.owner, {
    id: world.services.newId(),
    ...tier,
    validFrom: '2026-08-20',
  });
  if (clash.ok) throw new Error('it was changed');
  expect(clash.problem.detail).toContain('from Sep 1, 2026 on');
});

test('the API changes a rate and tells each period', async () => {
  const headers = await web.signIn(business.emailOf('owner'), business.password);
  const changed = await web.app.inject({
    method: 'POST',
    url: '/api/v1/price-book/rates/HL-M/periods',
    headers,
    payload: {
      id: world.services.newId(),
      repair: 'Headliner spot or hole, up to 3 in',
      list: '128.00',
      materials_percent: '10',
      valid_from: '2027-01-01',
    },
  });
  expect(changed.statusCode).toBe(201);
  const told = await web.app.inject({ method: 'GET', url: '/api/v1/price-book', headers });
  const rates = told
    .json<{ rates: { code: string; list: string; valid_from: string; valid_to: string | null }[] }>()
    .rates.filter((rate) => rate.code === 'HL-M');
  expect(rates.map((rate) => [rate.list, rate.valid_from, rate.valid_to])).toEqual([
    ['120.00', '2026-01-01', '2026-12-31'],
    ['128.00', '2027-01-01', null],
  ]);
});

test('the owner changes a rate on a page, which says what is coming and what was', async () => {
  const owner = await web.signInByPage(business.emailOf('owner'), business.password);
  const page = await owner.get('/office/price-book/rates/SW-L');
  expect(page.statusCode).toBe(200);
  const id = /name="id" value="([^"]+)"/.exec(page.body)?.[1] ?? '';
  const form = { id, repair: 'Steering wheel rim, whole', list: '299.00', materials_percent: '10' };
  const refused = await owner.post('/office/price-book/rates/SW-L', { ...form, valid_from: '2026-08-01' });
  expect(refused.statusCode).toBe(422);
  expect(refused.body).toContain('value="299.00"');
  expect(refused.body).toContain('The earliest first day is tomorrow');
  const done = await owner.post('/office/price-book/rates/SW-L', { ...form, valid_from: '2027-01-01' });
  expect([done.statusCode, done.headers.location]).toEqual([303, '/office/price-book/rates/SW-L']);
  expect((await owner.get('/office/price-book/rates/SW-L')).body).toContain('$299.00');
  expect((await owner.get('/office/price-book')).body).toMatch(/from <a[^>]*>Jan 1, 2027<\/a>: \$299\.00/);
});

test('the office sees the history of a rate without the forms that change it', async () => {
  const office = await web.signInByPage(business.emailOf('office'), business.password);
  const page = await office.get('/office/price-book/rates/SW-L');
  expect(page.statusCode).toBe(200);
  expect(page.body).not.toContain('name="valid_from"');
  expect((await office.get('/office/price-book/rates/NO-9')).statusCode).toBe(404);
  expect((await office.get('/office/price-book/rates/new')).statusCode).toBe(403);
});
