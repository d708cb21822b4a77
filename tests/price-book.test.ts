import { type AccountId, day } from '@grainwright/domain';
import {
  addAccountPrice,
  addCareFactor,
  addRates,
  addTaxArea,
  addTier,
  endPrice,
  type RateInput,
  readPriceBook,
  setPriceTerms,
} from '@grainwright/operations';
import { beforeAll, expect, test } from 'vitest';
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
let business: Business;
let account: Account;

beforeAll(async () => {
  world = await openWorld();
  business = await aBusiness(world);
  account = await anAccount(business);
});

const refusedWith = (code: string, field?: string) => ({
  ok: false,
  problem: field === undefined ? { code } : { code, field },
});

function aRate(change: Partial<RateInput> = {}): RateInput {
  return {
    id: world.services.newId(),
    code: 'AR-1',
    repair: 'Armrest rebuild',
    family: 'Armrest',
    overInches: null,
    toInches: null,
    part: null,
    material: null,
    list: '120.00',
    materialsPercent: '12',
    takesFurtherRepair: true,
    repairsDamage: true,
    validFrom: '2026-01-01',
    validTo: '2026-06-30',
    ...change,
  };
}

const add = (rate: RateInput) => addRates(world.services, business.owner, { rates: [rate] });

test('the list shows what each tier pays, as the invented price book has it', async () => {
  const book = must(await readPriceBook(world.services, business.bookkeeper));
  expect(book.tiers.map((tier) => tier.code)).toEqual(['retail', 'trade', 'dealer', 'lot']);
  const pricesOf = (code: string) => book.rates.find((rate) => rate.code === code)?.tierPricesMinor;
  // Invented figures; common practice of the trade, no published source.
  expect(pricesOf('VC-M')).toEqual([19500n, 16575n, 14625n, 10725n]);
  expect(pricesOf('KF-1')).toEqual([4700n, 3995n, 3525n, 2585n]);
});

test('only the owner changes the price book', async () => {
  for (const actor of [business.office, business.technician, business.bookkeeper, account.approver])
    expect(await addRates(world.services, actor, { rates: [aRate({ code: 'NO-1' })] })).toMatchObject(
      refusedWith('not_allowed'),
    );
});

test('two periods of one rate don’t overlap, and the refusal names both', async () => {
  must(await add(aRate()));
  const overlapping = await add(aRate({ validFrom: '2026-06-30', validTo: null }));
  expect(overlapping).toMatchObject(refusedWith('duplicate', 'valid_from'));
  if (overlapping.ok) throw new Error('it was added');
  expect(overlapping.problem.detail).toContain('from Jan 1 to Jun 30, 2026');
  expect(overlapping.problem.detail).toContain('from Jun 30, 2026 on');
  must(await add(aRate({ validFrom: '2026-07-01', validTo: null, list: '130.00' })));
});

test('rates are added all or none', async () => {
  const good = aRate({ code: 'ALL-1', family: 'All' });
  const bad = aRate({ code: 'ALL-2', family: 'All', list: '0' });
  expect(await addRates(world.services, business.owner, { rates: [good, bad] })).toMatchObject(
    refusedWith('invalid_money', 'list'),
  );
  expect(
    must(await readPriceBook(world.services, business.owner)).rates.map((rate) => rate.code),
  ).not.toContain('ALL-1');
});

test('two sizes of a family don’t overlap on the same day, and meet at the boundary', async () => {
  must(await add(aRate({ code: 'SZ-S', family: 'Size', overInches: '0', toInches: '2' })));
  const wider = { family: 'Size', overInches: '1.999', toInches: '4' };
  expect(await add(aRate({ code: 'SZ-M', ...wider }))).toMatchObject(refusedWith('duplicate', 'over_inches'));
  must(await add(aRate({ code: 'SZ-M', ...wider, overInches: '2' })));
});

test('the same rate sent again is left as it is, with another price it is refused', async () => {
  const rate = aRate({ code: 'RE-1', family: 'Again', materialsPercent: '12.50' });
  const first = must(await add(rate));
  expect(must(await add({ ...rate, materialsPercent: '12.5' }))).toEqual(first);
  expect(await add({ ...rate, list: '121.00' })).toMatchObject(refusedWith('id_reused', 'id'));
});

test('of two owners who add the same rate at once, one is told', async () => {
  const answers = await Promise.all([1, 2].map(() => add(aRate({ code: 'TWO-1', family: 'Two' }))));
  expect(answers.map((answer) => (answer.ok ? 'added' : answer.problem.code)).toSorted()).toEqual([
    'added',
    'duplicate',
  ]);
});

test('a rate is ended from today on, never in the past, and the next one follows', async () => {
  const rate = aRate({ code: 'END-1', family: 'End', validTo: null });
  must(await add(rate));
  const end = (validTo: string) =>
    endPrice(world.services, business.owner, { kind: 'rate', id: rate.id, validTo });
  expect(await end('2026-08-04')).toMatchObject(refusedWith('dates_out_of_order', 'valid_to'));
  must(await end('2026-08-31'));
  must(await end('2026-08-31'));
  expect(await end('2026-09-30')).toMatchObject(refusedWith('dates_out_of_order', 'valid_to'));
  must(
    await add(
      aRate({ code: 'END-1', family: 'End', validFrom: '2026-09-01', validTo: null, list: '125.00' }),
    ),
  );
});

test('terms set for a coming day end the ones that run the day before; terms for a past day are refused', async () => {
  const own = await aBusiness(world);
  const set = (validFrom: string, validTo: string | null = null) =>
    setPriceTerms(world.services, own.owner, {
      ...someTerms,
      id: world.services.newId(),
      validFrom,
      validTo,
    });
  expect(await set('2026-08-05')).toMatchObject(refusedWith('duplicate', 'valid_from'));
  expect(await set('2026-09-01', '2026-09-30')).toMatchObject(refusedWith('duplicate', 'valid_from'));
  must(await set('2026-09-01'));
  const { terms } = must(await readPriceBook(world.services, own.owner));
  expect(terms.map((each) => [each.validFrom, each.validTo])).toEqual([
    ['2026-01-01', '2026-08-31'],
    ['2026-09-01', null],
  ]);
});

test('an account’s own price needs a reason and a code of the price book, and has one period at a time', async () => {
  const price = {
    id: world.services.newId(),
    accountId: account.id,
    code: 'BN-S',
    price: '90.00',
    reason: 'agreed',
    validFrom: '2026-07-01',
    validTo: null,
  };
  const give = (change: Partial<typeof price>) =>
    addAccountPrice(world.services, business.owner, { ...price, ...change });
  expect(await give({ reason: ' ' })).toMatchObject(refusedWith('invalid_input', 'reason'));
  expect(await give({ code: 'XX-9' })).toMatchObject(refusedWith('invalid_input', 'code'));
  expect(await give({ accountId: world.newId<AccountId>() })).toMatchObject(refusedWith('not_found'));
  must(await give({}));
  must(await give({}));
  expect(await give({ id: world.services.newId(), validFrom: '2027-01-01' })).toMatchObject(
    refusedWith('duplicate', 'valid_from'),
  );
});

test('a percent with more decimals than are kept is refused, not rounded', async () => {
  expect(
    await addTier(world.services, business.owner, { ...someTier, discountPercent: '12.3456' }),
  ).toMatchObject(refusedWith('invalid_input', 'discount_percent'));
  expect(
    await addTier(world.services, business.owner, { ...someTier, discountPercent: '101' }),
  ).toMatchObject(refusedWith('invalid_input', 'discount_percent'));
  expect(
    await addCareFactor(world.services, business.owner, { code: 'cheap', name: 'Cheap', percent: '99' }),
  ).toMatchObject(refusedWith('invalid_input', 'percent'));
});

test('a tax area has its code once, and its parts their names once', async () => {
  const area = {
    id: world.services.newId(),
    code: 'C',
    name: 'Three Fords',
    components: [{ name: 'State', ratePercent: '4.125' }],
    taxable: ['materials'] as const,
    validFrom: '2026-01-01',
    validTo: null,
  };
  const first = must(await addTaxArea(world.services, business.owner, area));
  expect(must(await addTaxArea(world.services, business.owner, area))).toEqual(first);
  expect(
    await addTaxArea(world.services, business.owner, { ...area, id: world.services.newId() }),
  ).toMatchObject(refusedWith('duplicate', 'code'));
  const twice = {
    ...area,
    id: world.services.newId(),
    code: 'D',
    components: [...area.components, ...area.components],
  };
  expect(await addTaxArea(world.services, business.owner, twice)).toMatchObject(
    refusedWith('duplicate', 'components'),
  );
  const stored = must(await readPriceBook(world.services, business.owner)).taxAreas.find(
    (each) => each.code === 'C',
  );
  expect(stored?.classes.map((each) => [each.taxable, each.validFrom])).toEqual([
    [['materials'], day('2026-01-01')],
  ]);
});

const someTier = {
  code: 'gold',
  name: 'Gold',
  discountPercent: '5',
  vehicleMinimum: '10.00',
  tripWaivedFrom: null,
};

const someTerms = {
  furtherRepairPercents: ['100', '90'],
  trip: '50.00',
  milesIncluded: '20',
  mile: '1.50',
  afterHoursPercent: '25',
  afterHoursMinimum: '60.00',
  depositFrom: '200.00',
  depositPercent: '50',
  depositStep: '10.00',
};
