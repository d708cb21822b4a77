import type { AcceptanceId, LineId, VersionId, WorkOrderId } from '@grainwright/domain';
import {
  acceptWork,
  addAccountPrice,
  addLine,
  addRates,
  type ConsentBelowFloorInput,
  changeLine,
  consentBelowFloor,
  type LineInput,
  type RateInput,
  readPriceBook,
  readWorkOrder,
  reviseEstimate,
  showAcceptance,
  submitEstimate,
  writeRework,
} from '@grainwright/operations';
import { beforeAll, beforeEach, expect, test } from 'vitest';
import { openWeb, type Web } from './support/web.ts';
import { asAdministrator, finishedLine, photographed } from './support/work-in-hand.ts';
import {
  type Account,
  aBusiness,
  anAccount,
  type Business,
  must,
  openWorld,
  type World,
} from './support/world.ts';
import { aLine, writtenUp } from './support/write-ups.ts';

// Worked out by hand: VC-M lists at 195.00, 40 % of it are 78.00; a new car × 110 % is 214.50, 40 % of it are 85.80.
// Common practice, no source; the share is the business's own.

let world: World;
let web: Web;
let business: Business;
let account: Account;

beforeAll(async () => {
  world = await openWorld();
  web = await openWeb(world);
  business = await aBusiness(world, { floorPercent: '40' });
});
beforeEach(async () => {
  world.at('2026-08-05T09:00');
  account = await anAccount(business);
});

async function written(line: Partial<LineInput>) {
  const workOrderId = await writtenUp(account);
  const lineId = world.newId<LineId>();
  must(
    await addLine(world.services, business.office, {
      lineId,
      workOrderId,
      line: aLine({ measuredInches: '2.2', rateCode: 'VC-M', ...line }),
    }),
  );
  await photographed(account, workOrderId, lineId, 'before');
  return { workOrderId, lineId };
}

const byHand = (price: string): Partial<LineInput> => ({
  byHandPrice: price,
  byHandReason: 'for an old friend',
  byHandMaterialsPercent: '12',
});
const addRate = (rate: Partial<RateInput>) =>
  addRates(world.services, business.owner, {
    rates: [
      {
        id: world.services.newId(),
        code: '',
        family: 'Vinyl cut or tear',
        repair: 'Cut or tear in vinyl',
        overInches: '',
        toInches: '',
        part: null,
        material: null,
        list: '300.00',
        materialsPercent: '12',
        takesFurtherRepair: true,
        repairsDamage: true,
        validFrom: '2026-01-01',
        validTo: null,
        ...rate,
      },
    ],
  });
const send = (workOrderId: WorkOrderId) =>
  submitEstimate(world.services, business.technician, { workOrderId, versionId: world.newId<VersionId>() });
const consent = (given: Omit<ConsentBelowFloorInput, 'reason'>, actor = business.owner) =>
  consentBelowFloor(world.services, actor, { reason: 'he sends us forty cars', ...given });
const ownPrice = (price: string) =>
  addAccountPrice(world.services, business.owner, {
    id: world.services.newId(),
    accountId: account.id,
    code: 'VC-M',
    price,
    reason: 'promised',
    validFrom: '2026-08-01',
    validTo: null,
  });
const belowFloor = (price: string, floor = '78.00') =>
  `“Cut or tear, tailgate lining” at ${price} is below the floor of 40 % of list (${floor}). The owner of the business can consent to it.`;

test('a line below the floor is not sent: the refusal names line, price and floor', async () => {
  must(await ownPrice('77.99'));
  const { workOrderId } = await written({});
  expect(await send(workOrderId)).toMatchObject({
    problem: { code: 'below_floor', detail: belowFloor('77.99') },
  });
});

test('at the floor it is sent; with a care factor the floor is of list with it', async () => {
  must(await ownPrice('78.00'));
  must(await send((await written({})).workOrderId));
  const dearer = await written({ factorCode: 'new' });
  expect(await send(dearer.workOrderId)).toMatchObject({ problem: { detail: belowFloor('78.00', '85.80') } });
});

test('a price by hand on a repair that has a rate is held to the floor of that rate, named by code or by size', async () => {
  for (const named of [{}, { rateCode: '', family: 'Vinyl cut or tear' }]) {
    const { workOrderId } = await written({ ...named, ...byHand('60.00') });
    expect(await send(workOrderId)).toMatchObject({ problem: { detail: belowFloor('60.00') } });
  }
  // Nothing in the book to be below: larger than its largest size.
  const unknown = { rateCode: '', family: 'Vinyl cut or tear', measuredInches: '9', ...byHand('20.00') };
  must(await send((await written(unknown)).workOrderId));
});

test('a price by hand takes no care factor off the floor: it is of list with the factor', async () => {
  const { workOrderId } = await written({ factorCode: 'new', ...byHand('80.00') });
  expect(await send(workOrderId)).toMatchObject({ problem: { detail: belowFloor('80.00', '85.80') } });
});

test('a code that the price book has not, or not yet, gets round no floor; nor does a size left out', async () => {
  const add = async (line: Partial<LineInput>, actor = business.office) =>
    addLine(world.services, actor, {
      lineId: world.newId<LineId>(),
      workOrderId: await writtenUp(account),
      line: aLine({ measuredInches: '2.2', ...byHand('60.00'), ...line }),
    });
  for (const actor of [business.office, business.technician])
    expect(await add({ rateCode: 'vc-9', family: 'Vinyl cut or tear' }, actor)).toMatchObject({
      problem: {
        field: 'rate_code',
        detail: 'The price book has no rate VC-9. Choose one from the list, or leave it out.',
      },
    });
  expect(await add({ family: 'Vinyl cut or tear', measuredInches: '' })).toMatchObject({
    problem: { code: 'invalid_size', field: 'measured_inches' },
  });
  must(await addRate({ code: 'VC-X', overInches: '9', toInches: '12', validFrom: '2026-12-01' }));
  expect(await add({ rateCode: 'VC-X' }, business.technician)).toMatchObject({
    problem: { code: 'price_by_hand', field: 'by_hand_price' },
  });
  const { workOrderId } = await written({ rateCode: 'VC-X', ...byHand('60.00') });
  expect(await send(workOrderId)).toMatchObject({ problem: { detail: belowFloor('60.00') } });
});

test('a family written in another case, or beside a code of no rate, is held to the floor of the book’s', async () => {
  const bySize = { rateCode: '', ...byHand('60.00') };
  const spelled = await written({ ...bySize, family: ' vinyl CUT or tear ' });
  expect(await send(spelled.workOrderId)).toMatchObject({ problem: { detail: belowFloor('60.00') } });
  // As earlier versions stored them.
  for (const [family, code] of [
    ['vinyl CUT or tear ', null],
    ['Vinyl cut or tear', 'VC-9'],
  ] as const) {
    const { workOrderId, lineId } = await written({ ...bySize, family: 'Vinyl cut or tear' });
    await asAdministrator(
      world,
      (sql) =>
        sql`update work_order_lines set family = ${family}, rate_code = ${code} where id = ${lineId} returning id`,
    );
    expect(await send(workOrderId)).toMatchObject({ problem: { detail: belowFloor('60.00') } });
  }
});

test('a consent holds below the floor of its time: where the floor rises, the same price asks again', async () => {
  const { workOrderId, lineId } = await written(byHand('60.00'));
  must(await consent({ workOrderId, lineId, price: '60.00' }));
  const dearer = { measuredInches: '2.2', rateCode: 'VC-M', factorCode: 'new', ...byHand('60.00') };
  must(await changeLine(world.services, business.office, { lineId, workOrderId, line: aLine(dearer) }));
  expect(await send(workOrderId)).toMatchObject({ problem: { detail: belowFloor('60.00', '85.80') } });
  must(await consent({ workOrderId, lineId, price: '60.00' }));
  must(await send(workOrderId));
  const { priceNotes } = must(await readWorkOrder(world.services, business.owner, workOrderId));
  expect(priceNotes.consents.map(({ priceMinor, floorMinor }) => [priceMinor, floorMinor])).toEqual([
    [6000n, 7800n],
    [6000n, 8580n],
  ]);
});

test('only the owner consents, with a reason; then it is sent, and a lower price asks again', async () => {
  const { workOrderId, lineId } = await written(byHand('60.00'));
  for (const actor of [business.office, business.technician, business.bookkeeper])
    expect(await consent({ workOrderId, lineId, price: '60.00' }, actor)).toMatchObject({
      problem: { code: 'not_allowed' },
    });
  const without = { workOrderId, lineId, price: '60.00', reason: ' ' };
  expect(await consentBelowFloor(world.services, business.owner, without)).toMatchObject({
    problem: { code: 'invalid_input', field: 'reason' },
  });
  expect(await consent({ workOrderId, lineId, price: '78.00' })).toMatchObject({
    problem: { code: 'invalid_money', field: 'price' },
  });
  const other = world.newId<LineId>();
  expect(await consent({ workOrderId, lineId: other, price: '60.00' })).toMatchObject({
    problem: { code: 'not_found' },
  });
  for (const _again of [1, 2]) must(await consent({ workOrderId, lineId, price: '60.00' }));
  const line = aLine({ measuredInches: '2.2', rateCode: 'VC-M', ...byHand('59.99') });
  must(await changeLine(world.services, business.office, { lineId, workOrderId, line }));
  expect(await send(workOrderId)).toMatchObject({ problem: { detail: belowFloor('59.99') } });
  const higher = aLine({ measuredInches: '2.2', rateCode: 'VC-M', ...byHand('61.00') });
  must(await changeLine(world.services, business.office, { lineId, workOrderId, line: higher }));
  must(await send(workOrderId));
  const { priceNotes } = must(await readWorkOrder(world.services, business.office, workOrderId));
  expect(priceNotes.consents).toMatchObject([
    { priceMinor: 6000n, floorMinor: 7800n, reason: 'he sends us forty cars', by: 'Delphine Aster-Rowe' },
  ]);
});

test('a changed estimate is held to it too; the owner consents before, or with sending it', async () => {
  const { workOrderId, lineId } = await written({});
  must(await send(workOrderId));
  const revise = (price: string, actor = business.office, floorReason?: string) =>
    reviseEstimate(world.services, actor, {
      workOrderId,
      versionId: world.newId<VersionId>(),
      added: [],
      changed: [{ lineId, line: aLine({ measuredInches: '2.2', rateCode: 'VC-M', ...byHand(price) }) }],
      removed: [],
      ...(floorReason === undefined ? {} : { floorReason }),
    });
  expect(await revise('70.00')).toMatchObject({ problem: { code: 'below_floor' } });
  must(await consent({ workOrderId, lineId, price: '70.00' }));
  must(await revise('70.00'));
  // A reason consents to nothing from anybody but the owner.
  expect(await revise('50.00', business.office, 'why not')).toMatchObject({
    problem: { detail: belowFloor('50.00') },
  });
  must(await revise('50.00', business.owner, 'he takes ten at once'));
  const { priceNotes } = must(await readWorkOrder(world.services, business.owner, workOrderId));
  expect(priceNotes.consents.map(({ priceMinor, reason }) => [priceMinor, reason])).toEqual([
    [7000n, 'he sends us forty cars'],
    [5000n, 'he takes ten at once'],
  ]);
});

test('work without charge is sent at any price', async () => {
  const first = await finishedLine(account);
  const { digest } = must(await showAcceptance(world.services, business.technician, first.workOrderId));
  must(
    await acceptWork(world.services, business.technician, {
      acceptanceId: world.newId<AcceptanceId>(),
      workOrderId: first.workOrderId,
      shownDigest: digest,
      outcome: 'accepted',
      remark: '',
      signerName: 'Orrin Vasek',
      signerRole: 'vehicle_owner',
      mark: { kind: 'typed', name: 'Orrin Vasek', confirmed: true },
      overrideReason: '',
      device: 'a phone',
    }),
  );
  const { workOrderId } = must(
    await writeRework(world.services, business.owner, {
      id: world.newId<WorkOrderId>(),
      reworkOfId: first.workOrderId,
      reason: 'finish',
      day: '',
      afterHours: false,
    }),
  );
  const lineId = world.newId<LineId>();
  const line = aLine({ measuredInches: '2.2', rateCode: 'VC-M', ...byHand('10.00') });
  must(await addLine(world.services, business.office, { lineId, workOrderId, line }));
  await photographed(account, workOrderId, lineId, 'before');
  must(await send(workOrderId));
});

test('a consent is on record for good, and the account reads nothing of it', async () => {
  const { workOrderId, lineId } = await written(byHand('60.00'));
  must(await consent({ workOrderId, lineId, price: '60.00' }));
  await expect(
    asAdministrator(
      world,
      (sql) => sql`update floor_consents set reason = 'x' where work_order_id = ${workOrderId}`,
    ),
  ).rejects.toThrow();
  must(await send(workOrderId));
  const view = must(await readWorkOrder(world.services, account.approver, workOrderId));
  expect(view.priceNotes).toEqual({ handPrices: [], floored: [], consents: [] });
  const words = JSON.stringify(view, (_key, value) => (typeof value === 'bigint' ? `${value}` : value));
  for (const secret of ['forty cars', 'old friend', 'floor of', '7800', 'Delphine'])
    expect([secret, words.includes(secret)]).toEqual([secret, false]);
  expect(await consent({ workOrderId, lineId, price: '50.00' }, account.approver)).toMatchObject({
    problem: { code: 'not_allowed' },
  });
});

test('the API sets the floor, refuses with its own code, and takes the consent', async () => {
  const own = await aBusiness(world);
  const customer = await anAccount(own);
  const headers = await web.signIn(own.emailOf('owner'), own.password);
  const post = (url: string, payload: object) =>
    web.app.inject({ method: 'POST', url: `/api/v1/${url}`, headers, payload });
  const terms = {
    id: world.services.newId(),
    further_repair_percents: ['100', '90', '80'],
    trip: '45.00',
    miles_included: '20',
    mile: '1.50',
    after_hours_percent: '25',
    after_hours_minimum: '60.00',
    deposit_from: '200.00',
    deposit_percent: '50',
    deposit_step: '10.00',
    floor_percent: '50',
    valid_from: '2026-08-06',
  };
  const wrong = await post('price-book/terms', { ...terms, floor_percent: '101' });
  expect(wrong.json()).toMatchObject({ code: 'invalid_input', field: 'floor_percent' });
  expect((await post('price-book/terms', terms)).statusCode).toBe(201);
  world.at('2026-08-06T09:00');
  expect(must(await readPriceBook(world.services, own.office)).terms.at(-1)?.floorPercent).toBeTruthy();
  account = customer;
  const { workOrderId, lineId } = await writtenIn(own, customer);
  const refused = await post(`work-orders/${workOrderId}/estimate`, { id: world.newId() });
  expect([refused.statusCode, refused.json().code]).toEqual([409, 'below_floor']);
  const asked = { line_id: lineId, price: '90.00', reason: 'a good customer' };
  expect((await post(`work-orders/${workOrderId}/floor-consent`, asked)).statusCode).toBe(200);
  const sent = await post(`work-orders/${workOrderId}/estimate`, { id: world.newId() });
  expect(sent.statusCode).toBe(201);
  expect(sent.json().price_notes).toMatchObject({
    priced_by_hand: [{ line_id: lineId, reason: 'for an old friend', by: 'Ottoline Fairbrook' }],
    consents: [{ price: '90.00', floor: '97.50', reason: 'a good customer' }],
  });
});

async function writtenIn(own: Business, customer: Account) {
  const workOrderId = await writtenUp(customer);
  const lineId = world.newId<LineId>();
  const line = aLine({ measuredInches: '2.2', rateCode: 'VC-M', ...byHand('90.00') });
  must(await addLine(world.services, own.office, { lineId, workOrderId, line }));
  await photographed(customer, workOrderId, lineId, 'before');
  return { workOrderId, lineId };
}

test('the office’s work order says what can’t be sent, and the owner consents there', async () => {
  const { workOrderId, lineId } = await written(byHand('60.00'));
  const path = `/office/work-orders/${workOrderId}`;
  const office = await web.signInByPage(business.emailOf('office'), business.password);
  const page = (await office.get(path)).body;
  expect(page).toContain(belowFloor('60.00'));
  expect(page).not.toContain('Consent to this price');
  expect((await office.post(`${path}/floor-consent`, { line_id: lineId })).statusCode).toBe(403);
  const owner = await web.signInByPage(business.emailOf('owner'), business.password);
  expect((await owner.get(path)).body).toContain('value="60.00"');
  const form = { line_id: lineId, price: '60.00', reason: '' };
  const again = await owner.post(`${path}/floor-consent`, form);
  expect([again.statusCode, again.body.includes('Write why this price may be charged')]).toEqual([422, true]);
  const given = await owner.post(`${path}/floor-consent`, { ...form, reason: 'forty cars' });
  expect([given.statusCode, given.headers.location]).toEqual([303, `${path}#floor`]);
  const after = (await office.get(path)).body;
  expect(after).toContain('forty cars');
  expect(after).not.toContain('is below the floor');
});

test('a changed estimate below the floor asks the owner for the reason on the same page', async () => {
  const { workOrderId, lineId } = await written({});
  must(await send(workOrderId));
  const owner = await web.signInByPage(business.emailOf('owner'), business.password);
  const form = {
    step: 'save',
    version_id: world.newId(),
    part: 'tailgate_lining',
    damage: 'cut_or_tear',
    measured_inches: '2.2',
    family: 'Vinyl cut or tear',
    by_hand_price: '55.00',
    by_hand_reason: 'a friend',
    by_hand_materials_percent: '12',
  };
  const path = `/field/work-orders/${workOrderId}/lines/${lineId}`;
  const refused = await owner.post(path, form);
  expect([refused.statusCode, refused.body.includes('name="floor_reason"')]).toEqual([409, true]);
  const sentOn = await owner.post(path, { ...form, floor_reason: 'ten at once' });
  expect(sentOn.statusCode).toBe(303);
});
