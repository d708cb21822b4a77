import type { LineId, VisitId, WorkOrderId } from '@grainwright/domain';
import {
  addAccountPrice,
  addContract,
  addLine,
  addRates,
  addTierPrice,
  type EndedKind,
  endPrice,
  type LineInput,
  listRepairChoices,
  type RateInput,
  readAccount,
  readPriceBook,
  readWorkOrder,
  setPriceTerms,
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

// The figures are worked out by hand from the invented price book: VC-M lists at 195.00 with 12 % materials, Trade is
// 15 % off (165.75). Common practice of the trade, no source.

let world: World;
let web: Web;
let business: Business;
let account: Account;

beforeAll(async () => {
  world = await openWorld();
  web = await openWeb(world);
  business = await aBusiness(world);
  const change = { part: 'dash', list: '240.00', code: 'VC-MD' };
  const tpu = { material: 'tpu', list: '230.00', code: 'VC-MT' };
  const both = { ...change, material: 'tpu', list: '260.00', code: 'VC-MX' };
  must(await addRates(world.services, business.owner, { rates: [aRate(change), aRate(tpu), aRate(both)] }));
});
beforeEach(async () => {
  world.at('2026-08-05T09:00');
  account = await anAccount(business);
});

function aRate(change: Partial<RateInput>): RateInput {
  return {
    id: world.services.newId(),
    code: 'VC-MD',
    repair: 'Cut or tear, over 1 to 3 in',
    family: 'Vinyl cut or tear',
    overInches: '1',
    toInches: '3',
    part: null,
    material: null,
    list: '240.00',
    materialsPercent: '12',
    takesFurtherRepair: true,
    repairsDamage: true,
    validFrom: '2026-01-01',
    validTo: null,
    ...change,
  };
}

const cut = { family: 'Vinyl cut or tear', measuredInches: '2.2' };
const vinyl = { observation: 'relaxes_and_lies_down' };
const tpu = { observation: 'softens_cleanly' };

async function workOrder(line: Partial<LineInput>, day = '2026-08-05') {
  const workOrderId = await writtenUp(account, { visitId: world.newId<VisitId>(), day });
  const lineId = world.newId<LineId>();
  const added = await addLine(world.services, business.technician, {
    lineId,
    workOrderId,
    line: aLine({ ...cut, ...vinyl, ...line }),
  });
  return { workOrderId, lineId, added };
}

async function shown(id: WorkOrderId) {
  const view = must(await readWorkOrder(world.services, business.office, id));
  const [line] = view.estimate?.lines ?? [];
  return line === undefined ? view.lines[0]?.unpriced : [line.code, line.beforeFurtherMinor, line.trail];
}

async function priceOf(line: Partial<LineInput>, day?: string) {
  const { workOrderId, added } = await workOrder(line, day);
  must(added);
  return shown(workOrderId);
}

test('the rate that says the most about part and material prices the line', async () => {
  const first = ', first repair 100 % → ';
  expect(await priceOf({})).toEqual(['VC-M', 16575n, `list 195.00, Trade −15 % → 165.75${first}165.75`]);
  // 240.00 less 15 % = 204.00; 230.00 = 195.50; 260.00 = 221.00.
  expect(await priceOf({ part: 'dash' })).toEqual([
    'VC-MD',
    20400n,
    `list 240.00, Trade −15 % → 204.00${first}204.00`,
  ]);
  expect((await priceOf(tpu))?.slice(0, 2)).toEqual(['VC-MT', 19550n]);
  expect((await priceOf({ part: 'dash', ...tpu }))?.slice(0, 2)).toEqual(['VC-MX', 22100n]);
  const overruled = { overruledMaterial: 'tpu', overruleReason: 'marked so underneath' };
  expect((await priceOf(overruled))?.slice(0, 2)).toEqual(['VC-MT', 19550n]);
});

test('a code for another part or material is refused with the way out; nothing is priced at zero', async () => {
  const { added } = await workOrder({ family: '', rateCode: 'VC-MD', part: 'armrest' });
  expect(added).toMatchObject({
    problem: {
      code: 'invalid_input',
      field: 'rate_code',
      detail:
        'VC-MD is only for dash. Choose “Vinyl cut or tear” instead of a code, and part and material pick the price.',
    },
  });
  const only = aRate({ code: 'GL-1', family: 'Glass trim', part: 'pillar_trim', material: 'leather' });
  must(await addRates(world.services, business.owner, { rates: [only] }));
  expect(await priceOf({ family: 'Glass trim', part: 'pillar_trim' })).toBe(
    'The price book has no rate for “Glass trim” on pillar trim, foam-backed vinyl. Price it by hand, with a reason.',
  );
});

test('rates of one family may cover the same sizes for another part or material, and for no same one', async () => {
  const again = aRate({ code: 'VC-ME', part: 'dash' });
  expect(await addRates(world.services, business.owner, { rates: [again] })).toMatchObject({
    problem: { code: 'duplicate', field: 'over_inches' },
  });
  const armrest = aRate({ code: 'VC-ME', part: 'armrest' });
  must(await addRates(world.services, business.owner, { rates: [armrest] }));
  const wrong = aRate({ code: 'VC-MF', part: 'windscreen' });
  expect(await addRates(world.services, business.owner, { rates: [wrong] })).toMatchObject({
    problem: { code: 'invalid_input', field: 'part' },
  });
});

const from = (validFrom: string, validTo: string | null = null) => ({ validFrom, validTo });
const giveTier = (given: { validFrom: string; validTo: string | null; code?: string; price?: string }) =>
  addTierPrice(world.services, business.owner, {
    id: world.services.newId(),
    tierCode: 'trade',
    code: 'VC-L',
    price: '200.00',
    reason: 'asked by the trade',
    ...given,
  });
const contract = (given: { validFrom: string; validTo: string | null; name?: string }) =>
  addContract(world.services, business.owner, {
    id: world.services.newId(),
    accountId: account.id,
    name: 'Autumn 2026',
    discountPercent: '20',
    reason: 'forty cars a month',
    ...given,
  });

test('account price, contract, tier price, tier discount: the first there is counts, and the trail says which', async () => {
  const large = { measuredInches: '4' };
  const trail = async () => ((await priceOf(large)) ?? [])[2];
  // VC-L lists at 285.00; less 15 % = 242.25, less 20 % = 228.00.
  expect(await trail()).toContain('list 285.00, Trade −15 % → 242.25');
  const price = must(await giveTier(from('2026-08-01')));
  expect(await trail()).toContain('list 285.00, Trade price → 200.00');
  must(await contract(from('2026-08-01')));
  expect(await trail()).toContain('list 285.00, contract “Autumn 2026” −20 % → 228.00');
  must(
    await addAccountPrice(world.services, business.owner, {
      id: world.services.newId(),
      accountId: account.id,
      code: 'VC-L',
      price: '190.00',
      reason: 'promised',
      ...from('2026-08-01'),
    }),
  );
  expect(await trail()).toContain('list 285.00, account’s own price → 190.00');
  const ended = { kind: 'tier_price' as const, id: price.id, validTo: '2026-08-05' };
  must(await endPrice(world.services, business.owner, ended));
});

test('a contract counts inside its window alone', async () => {
  must(await contract(from('2026-08-05', '2026-08-20')));
  expect((await priceOf({}, '2026-08-04'))?.[1]).toBe(16575n);
  expect((await priceOf({}, '2026-08-05'))?.[1]).toBe(15600n);
  world.at('2026-08-21T09:00');
  expect((await priceOf({}, '2026-08-20'))?.[1]).toBe(15600n);
  expect((await priceOf({}, '2026-08-21'))?.[1]).toBe(16575n);
});

test('a new period, tier price or contract never changes an estimate that was sent', async () => {
  const { workOrderId, lineId, added } = await workOrder({ family: 'Headliner', part: 'headliner' });
  must(added);
  await photographed(account, workOrderId, lineId, 'before');
  await sent(account, workOrderId);
  const read = async () => {
    const { estimate } = must(await readWorkOrder(world.services, account.approver, workOrderId));
    return [estimate?.lines.map(({ trail }) => trail), estimate?.digest, estimate?.price.invoice.totals];
  };
  const before = await read();
  // HL-M lists at 120.00; less 15 % = 102.00.
  expect(before[0]).toEqual(['list 120.00, Trade −15 % → 102.00, first repair 100 % → 102.00']);
  must(await giveTier({ ...from('2026-08-01'), code: 'HL-M', price: '80.00' }));
  must(await contract(from('2026-01-01')));
  const dearer = aRate({ code: 'HL-MH', family: 'Headliner', part: 'headliner', overInches: '0' });
  must(await addRates(world.services, business.owner, { rates: [dearer] }));
  expect(await read()).toEqual(before);
  // A new one of the same kind is priced by all of it: 240.00 less 20 % = 192.00.
  expect((await priceOf({ family: 'Headliner', part: 'headliner' }))?.slice(0, 2)).toEqual(['HL-MH', 19200n]);
});

test('what overlaps is refused naming both in words; own prices and contracts may leave days out', async () => {
  must(await giveTier({ ...from('2026-01-01', '2026-06-30'), code: 'SC-S' }));
  expect(await giveTier({ ...from('2026-06-30'), code: 'SC-S' })).toMatchObject({
    problem: {
      code: 'duplicate',
      field: 'valid_from',
      detail:
        'Trade’s own price for SC-S counts from Jan 1 to Jun 30, 2026 already; a price from Jun 30, 2026 on would overlap it. Choose other days, or end the one that is there first.',
    },
  });
  must(await giveTier({ ...from('2026-09-01'), code: 'SC-S' }));
  must(await contract(from('2026-08-01', '2027-01-31')));
  expect(await contract({ ...from('2027-01-31'), name: 'Next' })).toMatchObject({
    problem: {
      code: 'duplicate',
      detail:
        'The contract “Autumn 2026” counts from Aug 1, 2026 to Jan 31, 2027 already; a contract from Jan 31, 2027 on would overlap it. Choose other days, or end the one that is there first.',
    },
  });
  must(await contract({ ...from('2027-03-01'), name: 'Next' }));
});

test('price terms that leave days out between two are refused naming both and those days', async () => {
  const terms = {
    furtherRepairPercents: ['100', '90', '80'],
    trip: '45.00',
    milesIncluded: '20',
    mile: '1.50',
    afterHoursPercent: '25',
    afterHoursMinimum: '60.00',
    depositFrom: '200.00',
    depositPercent: '50',
    depositStep: '10.00',
  };
  const set = (period: { validFrom: string; validTo: string | null }) =>
    setPriceTerms(world.services, business.owner, { id: world.services.newId(), ...terms, ...period });
  expect(await set(from('2025-06-01', '2025-11-30'))).toMatchObject({
    problem: {
      code: 'dates_out_of_order',
      field: 'valid_to',
      detail:
        'A set of price terms counts from Jun 1 to Nov 30, 2025, and a set of terms from Jan 1, 2026 on leaves days out: from Dec 1 to Dec 31, 2025 there would be no set of terms. Let one follow the other without a day between.',
    },
  });
  expect(await set(from('2026-03-01', '2026-06-30'))).toMatchObject({ problem: { code: 'duplicate' } });
  must(await set(from('2025-06-01', '2025-12-31')));
});

test('only the owner gives tier prices and contracts, and the same request again changes nothing', async () => {
  const [priceId, contractId] = [world.services.newId(), world.services.newId()];
  const price = { id: priceId, tierCode: 'lot', code: 'KF-1', price: '25.00', reason: 'asked' };
  const agreed = {
    id: contractId,
    accountId: account.id,
    name: 'C',
    discountPercent: '5',
    reason: 'asked',
  };
  for (const actor of [business.office, business.technician, business.bookkeeper, account.approver]) {
    const answers = [
      await addTierPrice(world.services, actor, { ...price, ...from('2026-08-01') }),
      await addContract(world.services, actor, { ...agreed, ...from('2026-08-01') }),
    ];
    for (const answer of answers) expect(answer).toMatchObject({ problem: { code: 'not_allowed' } });
  }
  for (const _again of [1, 2]) {
    must(await addTierPrice(world.services, business.owner, { ...price, ...from('2026-08-01') }));
    must(await addContract(world.services, business.owner, { ...agreed, ...from('2026-08-01') }));
  }
  expect(
    await addTierPrice(world.services, business.owner, { ...price, price: '26.00', ...from('2026-08-01') }),
  ).toMatchObject({ problem: { code: 'id_reused' } });
  for (const kind of ['tier_price', 'contract'] satisfies EndedKind[]) {
    const id = kind === 'contract' ? contractId : priceId;
    must(await endPrice(world.services, business.owner, { kind, id, validTo: '2026-08-31' }));
  }
  const view = must(await readAccount(world.services, business.office, account.id));
  expect(view.contracts.map(({ name, validTo }) => [name, validTo])).toEqual([['C', '2026-08-31']]);
  const book = must(await readPriceBook(world.services, business.office));
  const lot = book.tiers.findIndex(({ code }) => code === 'lot');
  expect(book.rates.find(({ code }) => code === 'KF-1')?.tierPricesMinor[lot]).toBe(2500n);
});

test('the API takes and tells part, material, labor and materials, tier prices and contracts', async () => {
  const headers = await web.signIn(business.emailOf('owner'), business.password);
  const post = (url: string, payload: object) =>
    web.app.inject({ method: 'POST', url: `/api/v1/price-book/${url}`, headers, payload });
  const { validFrom: valid_from } = from('2026-08-01');
  const rate = {
    id: world.services.newId(),
    code: 'SC-SD',
    repair: 'Scuff on a dash',
    family: 'Scuff or scrape',
    over_inches: '0',
    to_inches: '3',
    part: 'dash',
    list: '110.00',
    materials_percent: '15',
    takes_further_repair: true,
    repairs_damage: true,
    valid_from,
  };
  expect((await post('rates', { rates: [rate] })).statusCode).toBe(201);
  const own = { id: world.services.newId(), tier: 'dealer', code: 'SC-SD', price: '80.00', reason: 'asked' };
  expect((await post('tier-prices', { ...own, valid_from })).statusCode).toBe(201);
  const agreed = { account_id: account.id, name: 'By API', discount_percent: '7', reason: 'asked' };
  const made = await post('contracts', { id: world.services.newId(), ...agreed, valid_from });
  expect(made.statusCode).toBe(201);
  const told = await web.app.inject({ method: 'GET', url: '/api/v1/price-book', headers });
  const body = told.json();
  // 15 % of 110.00 is 16.50.
  expect(body.rates.find((each: { code: string }) => each.code === 'SC-SD')).toMatchObject({
    part: 'dash',
    material: null,
    labor: '93.50',
    materials: '16.50',
    tier_prices: { dealer: '80.00', trade: '93.50' },
  });
  expect(body.rates.find((each: { code: string }) => each.code === 'VC-M')).toMatchObject({
    list: '195.00',
    labor: '171.60',
    materials: '23.40',
  });
  expect(body.contracts).toContainEqual(expect.objectContaining({ name: 'By API', discount_percent: '7' }));
  const ended = await post(`contracts/${made.json().id}/end`, { valid_to: '2026-08-31' });
  expect(ended.statusCode).toBe(200);
  const choices = must(await listRepairChoices(world.services, business.technician));
  const scuffs = choices.families.find(({ family }) => family === 'Scuff or scrape');
  expect(scuffs?.rates.map(({ code, part }) => [code, part])).toContainEqual(['SC-SD', 'dash']);
});
