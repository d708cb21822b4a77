import type { WorkOrderId } from '@grainwright/domain';
import {
  addStaffMember,
  finishWork,
  holdWorkOrder,
  liftHold,
  listCautions,
  readWorkOrder,
  startWork,
  type VoidWorkOrderInput,
  voidWorkOrder,
} from '@grainwright/operations';
import { beforeAll, expect, test } from 'vitest';
import { approvedLine, finishedLine, photographedLine } from './support/work-in-hand.ts';
import {
  type Account,
  aBusiness,
  actorFor,
  anAccount,
  type Business,
  must,
  openWorld,
  type World,
} from './support/world.ts';
import { writtenUp } from './support/write-ups.ts';

let world: World;
let business: Business;
let lot: Account;
let installer: Account;

beforeAll(async () => {
  world = await openWorld();
  business = await aBusiness(world);
  // The agreed demo figures: a no-show costs Penny Lantern 55.00.
  lot = await anAccount(business, { name: 'Penny Lantern Autos', noShowFee: '55.00', limit: null });
  installer = await anAccount(business, { limit: null });
});

const refusal = (code: string) => ({ ok: false, problem: { code } });
const read = (id: WorkOrderId) => readWorkOrder(world.services, business.office, id);

function voided(
  workOrderId: WorkOrderId,
  reason: VoidWorkOrderInput['reason'],
  change: Partial<VoidWorkOrderInput> = {},
  actor = business.office,
) {
  const input = { workOrderId, reason, note: '', duplicateOfId: null, ...change };
  return voidWorkOrder(world.services, actor, input);
}

test('a duplicate names the work order that stays, and keeps its own number', async () => {
  const [first, second] = [await writtenUp(lot), await writtenUp(lot)];
  const { number } = must(await read(second));
  expect(await voided(second, 'duplicate')).toMatchObject(refusal('invalid_input'));
  expect(await voided(second, 'duplicate', { duplicateOfId: second })).toMatchObject(
    refusal('invalid_input'),
  );
  expect(await voided(second, 'duplicate', { duplicateOfId: first })).toEqual({
    ok: true,
    value: { state: 'void', noShowFeeMinor: null, currency: 'USD' },
  });
  const view = must(await read(second));
  expect(view).toMatchObject({ state: 'void', number, waitsFor: 'nobody' });
  expect(view.voided).toMatchObject({
    reason: 'duplicate',
    duplicateOf: { id: first },
    noShowFeeMinor: null,
  });
  const third = await writtenUp(lot);
  expect(await voided(third, 'duplicate', { duplicateOfId: second })).toMatchObject(refusal('invalid_input'));
});

test('a vehicle that is not there costs the fee of the account’s terms', async () => {
  const id = await writtenUp(lot);
  const note = { note: 'sold this morning' };
  expect(await voided(id, 'vehicle_not_there', note, business.technician)).toEqual({
    ok: true,
    value: { state: 'void', noShowFeeMinor: 5500n, currency: 'USD' },
  });
  const { voided: facts, steps } = must(await read(id));
  expect(facts).toMatchObject({
    reason: 'vehicle_not_there',
    note: 'sold this morning',
    noShowFeeMinor: 5500n,
  });
  expect(steps.at(-1)).toMatchObject({
    event: 'voided',
    note: 'Vehicle not there: fee $55.00. sold this morning',
  });
});

test('without such terms a vehicle that is not there costs nothing', async () => {
  const id = await writtenUp(installer);
  expect(await voided(id, 'vehicle_not_there')).toMatchObject({ ok: true, value: { noShowFeeMinor: null } });
});

test('a technician voids only a vehicle that is not there, on their own visit', async () => {
  const id = await writtenUp(lot);
  expect(await voided(id, 'written_in_error', {}, business.technician)).toMatchObject(refusal('not_allowed'));
  const colleague = await anotherTechnician();
  expect(await voided(id, 'vehicle_not_there', {}, colleague)).toMatchObject(refusal('not_allowed'));
  expect(await voided(id, 'vehicle_not_there', {}, business.technician)).toMatchObject({ ok: true });
});

test('work that has started was there, and accepted work is not voided at all', async () => {
  const work = await photographedLine(installer);
  expect(await voided(work.workOrderId, 'vehicle_not_there')).toMatchObject(refusal('wrong_state'));
  expect(await voided(work.workOrderId, 'other')).toMatchObject({ ok: true });
  const free = await anAccount(business, { acceptanceRule: 'none', limit: null });
  const accepted = await finishedLine(free);
  expect(await voided(accepted.workOrderId, 'other')).toMatchObject(refusal('wrong_state'));
});

test('voiding twice for the same reason changes nothing; for another one it is refused', async () => {
  const id = await writtenUp(lot);
  const once = await voided(id, 'vehicle_not_there');
  expect(await voided(id, 'vehicle_not_there')).toEqual(once);
  expect(await voided(id, 'written_in_error')).toMatchObject(refusal('wrong_state'));
});

test('a hold stops a start until it is lifted, and is told with its reason', async () => {
  const { workOrderId } = await approvedLine(installer);
  const hold = { workOrderId, reason: 'the account is past due' };
  expect(await holdWorkOrder(world.services, business.technician, hold)).toMatchObject(
    refusal('not_allowed'),
  );
  must(await holdWorkOrder(world.services, business.office, hold));
  expect(must(await read(workOrderId)).holdReason).toBe('the account is past due');
  expect(await started(workOrderId)).toMatchObject({
    ok: false,
    problem: { code: 'wrong_state', detail: expect.stringContaining('the account is past due') },
  });
  must(await liftHold(world.services, business.office, { workOrderId, reason: 'paid' }));
  expect(await started(workOrderId)).toMatchObject({ ok: true, value: { state: 'in_work' } });
  const { steps } = must(await read(workOrderId));
  expect(steps.map(({ event, note }) => [event, note])).toEqual(
    expect.arrayContaining([
      ['held', 'the account is past due'],
      ['hold_lifted', 'paid'],
    ]),
  );
});

test('a hold does not stop what has started from being finished', async () => {
  const { workOrderId } = await photographedLine(installer);
  must(
    await holdWorkOrder(world.services, business.office, { workOrderId, reason: 'wait for the adjuster' }),
  );
  const finish = { workOrderId, work: [], overrides: [] };
  expect(await finishWork(world.services, business.technician, finish)).toMatchObject({
    ok: true,
    value: { state: 'done' },
  });
});

test('a hold needs a reason, and finished work has nothing to hold back', async () => {
  const { workOrderId } = await finishedLine(installer);
  const hold = (reason: string) => holdWorkOrder(world.services, business.office, { workOrderId, reason });
  expect(await hold('  ')).toMatchObject(refusal('invalid_input'));
  expect(await hold('too late')).toMatchObject(refusal('wrong_state'));
});

async function started(workOrderId: WorkOrderId) {
  const asked = { workOrderId, circumstances: [] };
  const { cautions } = must(await listCautions(world.services, business.technician, asked));
  const acknowledge = cautions.map(({ code }) => code);
  return startWork(world.services, business.technician, {
    ...asked,
    acknowledgmentId: world.newId(),
    acknowledge,
  });
}

async function anotherTechnician() {
  const actor = actorFor(world, business.tenantId, null);
  const { personId } = actor;
  const person = { personId, name: 'Marlo Quist', email: 'marlo@example.com', phone: '', shortName: 'T3' };
  must(
    await addStaffMember(world.services, business.owner, {
      ...person,
      role: 'technician',
      login: { userId: actor.userId, membershipId: actor.id, password: business.password },
    }),
  );
  return actor;
}
