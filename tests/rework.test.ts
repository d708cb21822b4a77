import type { AcceptanceId, WorkOrderId } from '@grainwright/domain';
import {
  acceptWork,
  addLine,
  finishWork,
  listCautions,
  listEarlierWork,
  readWorkOrder,
  releaseSeam,
  showAcceptance,
  startWork,
  voidWorkOrder,
  writeRework,
  writeUp,
} from '@grainwright/operations';
import { beforeAll, expect, test } from 'vitest';
import { finishedLine, photographed, type WorkInHand } from './support/work-in-hand.ts';
import {
  type Account,
  aBusiness,
  anAccount,
  type Business,
  must,
  openWorld,
  type World,
} from './support/world.ts';
import { aLine, aWriteUp, sent } from './support/write-ups.ts';

let world: World;
let business: Business;
/** Trade: the vehicle's owner signs; a vehicle minimum of 125.00 and a trip of 45.00 that a rework has neither of. */
let tint: Account;

beforeAll(async () => {
  world = await openWorld();
  business = await aBusiness(world);
  tint = await anAccount(business, { name: 'Umbral Film Works', limit: null, ownNumberKind: 'job' });
});

const scuff = aLine({
  damage: 'scuff',
  rateCode: 'SC-S',
  measuredInches: '2',
  methods: ['adjust_sheen', 'mask'],
});
const read = (id: WorkOrderId) => readWorkOrder(world.services, business.technician, id);

async function accept(workOrderId: WorkOrderId) {
  const { digest } = must(await showAcceptance(world.services, business.technician, workOrderId));
  return acceptWork(world.services, business.technician, {
    acceptanceId: world.newId<AcceptanceId>(),
    workOrderId,
    shownDigest: digest,
    outcome: 'accepted',
    remark: '',
    signerName: 'Orrin Vasek',
    signerRole: 'vehicle_owner',
    mark: { kind: 'typed', name: 'Orrin Vasek', confirmed: true },
    overrideReason: '',
    device: 'a phone',
  });
}

async function acceptedWork(): Promise<WorkInHand> {
  const work = await finishedLine(tint);
  must(await accept(work.workOrderId));
  return work;
}

const rework = (reworkOfId: WorkOrderId, change = {}) =>
  writeRework(world.services, business.technician, {
    id: world.newId<WorkOrderId>(),
    reworkOfId,
    reason: 'finish',
    day: '',
    afterHours: false,
    ...change,
  });

/** Photographed, sent and, since nobody has to agree, started. */
async function startedRework(reworkOfId: WorkOrderId): Promise<WorkInHand> {
  const { workOrderId } = must(await rework(reworkOfId));
  const lineId = world.newId<WorkInHand['lineId']>();
  must(await addLine(world.services, business.technician, { workOrderId, lineId, line: scuff }));
  await photographed(tint, workOrderId, lineId, 'before');
  await sent(tint, workOrderId);
  const { cautions } = must(
    await listCautions(world.services, business.technician, { workOrderId, circumstances: [] }),
  );
  const acknowledge = cautions.map(({ code }) => code);
  const start = { acknowledgmentId: world.newId(), workOrderId, acknowledge, circumstances: [] };
  must(await startWork(world.services, business.technician, start));
  return { workOrderId, lineId };
}

// The agreed demo figures: WO-1020 of WO-1006, reason “finish”, technician 1.1 h, 6.40 of materials, 0.00 to pay.
test('a rework has no charge, no minimum and no trip, and needs nobody’s approval', async () => {
  const first = await acceptedWork();
  const { workOrderId } = await startedRework(first.workOrderId);
  const view = must(await read(workOrderId));
  expect(view.state).toBe('in_work');
  expect(view.estimate?.price).toMatchObject({
    vehicle: { minimum: null, repairsMinor: 0n },
    visit: { trip: null, afterHours: null },
    invoice: { totals: { withTaxMinor: 0n } },
  });
  expect(view.decision).toMatchObject({ given: 'without_charge', decidedBy: null, totalMinor: 0n });
  expect(view.steps.map(({ event }) => event)).toEqual(['written_up', 'submitted', 'approved', 'started']);
});

test('a rework ends when it is accepted; what it cost is kept, and only the business sees it', async () => {
  const first = await acceptedWork();
  const work = await startedRework(first.workOrderId);
  for (const purpose of ['progress', 'after'] as const)
    await photographed(tint, work.workOrderId, work.lineId, purpose);
  const finish = { workOrderId: work.workOrderId, work: [], overrides: [] };
  const costs = { technicianMinutes: '66', materialsCost: '6.40' };
  expect(await finishWork(world.services, business.technician, { ...finish, ...costs })).toEqual({
    ok: true,
    value: { state: 'done' },
  });
  expect(await accept(work.workOrderId)).toMatchObject({ ok: true, value: { state: 'accepted' } });
  const view = must(await read(work.workOrderId));
  expect(view.waitsFor).toBe('nobody');
  expect(view.costs).toEqual({ technicianMinutes: 66, materialsCostMinor: 640n });
  expect(view.steps.at(-1)?.event).toBe('reworked_done');
  const asAccount = must(await readWorkOrder(world.services, tint.approver, work.workOrderId));
  expect(asAccount.costs).toBeNull();
});

test('the first order shows that it came back, and the rework what it puts right', async () => {
  const first = await acceptedWork();
  const { workOrderId, number } = must(await rework(first.workOrderId, { reason: 'color' }));
  const firstView = must(await read(first.workOrderId));
  expect(firstView.cameBack).toMatchObject([
    { id: workOrderId, number, reason: 'color', state: 'written_up' },
  ]);
  const view = must(await read(workOrderId));
  expect(view.reworkOf).toMatchObject({ id: first.workOrderId, number: firstView.number, reason: 'color' });
  expect(view.vehicle).toEqual(firstView.vehicle);
  expect(view.owner).toEqual(firstView.owner);
  const asAccount = must(await readWorkOrder(world.services, tint.viewer, first.workOrderId));
  expect(asAccount.cameBack).toMatchObject([{ id: workOrderId }]);
});

test('a rework of a rework is of the first order', async () => {
  const first = await acceptedWork();
  const work = await startedRework(first.workOrderId);
  for (const purpose of ['progress', 'after'] as const)
    await photographed(tint, work.workOrderId, work.lineId, purpose);
  must(
    await finishWork(world.services, business.technician, {
      workOrderId: work.workOrderId,
      work: [],
      overrides: [],
    }),
  );
  must(await accept(work.workOrderId));
  const { workOrderId } = must(await rework(work.workOrderId));
  expect(must(await read(workOrderId)).reworkOf?.id).toBe(first.workOrderId);
});

test('only accepted work comes back, and not before it was done', async () => {
  const unfinished = await finishedLine(tint);
  expect(await rework(unfinished.workOrderId)).toMatchObject({ ok: false, problem: { code: 'wrong_state' } });
  const first = await acceptedWork();
  expect(await rework(first.workOrderId, { day: '2026-08-01' })).toMatchObject({
    ok: false,
    problem: { code: 'invalid_date', field: 'day' },
  });
  expect(await rework(world.newId<WorkOrderId>())).toMatchObject({
    ok: false,
    problem: { code: 'not_found' },
  });
});

test('the same rework sent twice is one, and its id is good for nothing else', async () => {
  const first = await acceptedWork();
  const id = world.newId<WorkOrderId>();
  const once = await rework(first.workOrderId, { id });
  expect(await rework(first.workOrderId, { id })).toEqual(once);
  expect(await rework(first.workOrderId, { id, reason: 'texture' })).toMatchObject({
    ok: false,
    problem: { code: 'id_reused' },
  });
});

// Common practice, no source: what comes back within 90 days counts as a comeback.
test('a rework is offered for 90 days where the vehicle comes again', async () => {
  world.at('2026-08-05T09:00');
  const first = await acceptedWork();
  const { vehicle } = must(await read(first.workOrderId));
  const again = async (at: string) => {
    world.at(at);
    const input = aWriteUp(tint, { lastEight: vehicle.lastEight ?? '', anotherDamage: true });
    const { workOrderId } = must(await writeUp(world.services, business.technician, input));
    const earlier = must(await listEarlierWork(world.services, business.technician, workOrderId));
    return earlier.find(({ id }) => id === first.workOrderId)?.maybeComeback;
  };
  expect(await again('2026-11-03T09:00')).toBe(true);
  expect(await again('2026-11-04T09:00')).toBeUndefined();
  world.at('2026-08-05T09:00');
});

// Common practice, no source: the business puts its own repair right for 90 days unless it says otherwise.
test('the same part within the warranty is offered as a rework, with its vehicle and with its line', async () => {
  world.at('2026-08-05T09:00');
  const first = await acceptedWork();
  const { vehicle, number, lines } = must(await read(first.workOrderId));
  const [line] = lines;
  if (line === undefined) throw new Error('the first order has a line');
  const samePart = aLine({ ...scuff, part: line.entry.part });
  const again = async (at: string) => {
    world.at(at);
    const input = aWriteUp(tint, { lastEight: vehicle.lastEight ?? '', anotherDamage: true });
    const written = must(await writeUp(world.services, business.technician, input));
    const { workOrderId } = written;
    const lineId = world.newId<WorkInHand['lineId']>();
    const added = await addLine(world.services, business.technician, { workOrderId, lineId, line: samePart });
    const voided = { workOrderId, reason: 'written_in_error', note: '', duplicateOfId: null } as const;
    must(await voidWorkOrder(world.services, business.office, voided));
    return { warnings: written.warnings, added };
  };
  const within = await again('2026-11-03T09:00');
  expect(within.warnings).toEqual([
    `${line.words} was repaired on WO-${number} on Aug 5, 2026, within the 90 days of the warranty. If that came back, make it a rework without charge.`,
  ]);
  expect(within.added).toMatchObject({
    ok: false,
    problem: {
      code: 'duplicate',
      field: 'another_damage',
      detail: `This part was repaired on WO-${number} on Aug 5, 2026, within the 90 days of the warranty: ${line.words}. If that came back, make it a rework without charge; if it is another damage, say so and go on.`,
    },
  });
  const after = await again('2026-11-04T09:00');
  expect(after.warnings).toEqual([]);
  expect(after.added.ok).toBe(true);
  world.at('2026-08-05T09:00');
});

test('a rework that sews an air-bag seam is blocked like any other work until the owner releases it', async () => {
  const first = await acceptedWork();
  const { workOrderId } = must(await rework(first.workOrderId));
  const lineId = world.newId<WorkInHand['lineId']>();
  const seam = aLine({ part: 'seat_bolster', damage: 'open_seam', rateCode: 'SC-S', methods: ['re_sew'] });
  must(await addLine(world.services, business.technician, { workOrderId, lineId, line: seam }));
  await photographed(tint, workOrderId, lineId, 'before');
  await sent(tint, workOrderId);
  const asked = { workOrderId, circumstances: [] };
  const { cautions } = must(await listCautions(world.services, business.technician, asked));
  const start = () =>
    startWork(world.services, business.technician, {
      ...asked,
      acknowledgmentId: world.newId(),
      acknowledge: cautions.map(({ code }) => code),
    });
  expect(await start()).toMatchObject({ ok: false, problem: { code: 'wrong_state' } });
  const release = { workOrderId, lineId, reason: 'the maker’s instructions allow it' };
  must(await releaseSeam(world.services, business.owner, release));
  expect(await start()).toMatchObject({ ok: true, value: { state: 'in_work' } });
});
