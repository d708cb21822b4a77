import {
  finishWork,
  listCautions,
  readWorkOrder,
  releaseSeam,
  reviewWork,
  startWork,
} from '@grainwright/operations';
import { beforeAll, expect, test } from 'vitest';
import {
  approvedLine,
  asAdministrator,
  cutLining,
  photographed,
  photographedLine,
  startedLine,
  type WorkInHand,
} from './support/work-in-hand.ts';
import {
  type Account,
  aBusiness,
  anAccount,
  type Business,
  must,
  openWorld,
  type World,
} from './support/world.ts';
import { aLine } from './support/write-ups.ts';

let world: World;
let business: Business;
/** Trade: before, a proof and after; the vehicle's owner signs. */
let installer: Account;

beforeAll(async () => {
  world = await openWorld();
  business = await aBusiness(world);
  installer = await anAccount(business, { limit: null });
});

const refusal = (code: string) => ({ ok: false, problem: { code } });

async function start(work: WorkInHand, acknowledge: readonly string[], actor = business.technician) {
  const input = {
    acknowledgmentId: world.newId(),
    workOrderId: work.workOrderId,
    acknowledge,
    circumstances: [],
  };
  return startWork(world.services, actor, input);
}

async function cautionCodes({ workOrderId }: WorkInHand, circumstances: readonly string[] = []) {
  const view = must(await listCautions(world.services, business.technician, { workOrderId, circumstances }));
  return view.cautions.map(({ code }) => code);
}

test('work starts only once every caution for its parts, materials and methods is acknowledged', async () => {
  const line = aLine({ ...cutLining, part: 'front_door_panel', methods: ['heat_flatten', 'cold_grain'] });
  const work = await approvedLine(installer, line);
  const codes = await cautionCodes(work);
  expect(codes).toEqual(expect.arrayContaining(['airbag_near', 'heat']));
  expect(await start(work, [])).toMatchObject(refusal('cautions_open'));
  expect(await start(work, codes.slice(1))).toMatchObject(refusal('cautions_open'));
  expect(await cautionCodes(work, ['airbag_lamp_on'])).toContain('airbag_lamp');
  expect(await start(work, codes)).toEqual({ ok: true, value: { state: 'in_work' } });
  expect(await start(work, codes)).toMatchObject(refusal('wrong_state'));
  const [logged] = await asAdministrator(
    world,
    (sql) =>
      sql`select codes, acknowledged_by from caution_acknowledgments where work_order_id = ${work.workOrderId}`,
  );
  expect(logged).toEqual({ codes, acknowledged_by: business.technician.personId });
});

test('the same start sent twice starts once', async () => {
  const work = await approvedLine(installer);
  const input = {
    acknowledgmentId: world.newId(),
    workOrderId: work.workOrderId,
    acknowledge: await cautionCodes(work),
    circumstances: [],
  };
  const answers = await Promise.all(
    [1, 2, 3].map(() => startWork(world.services, business.technician, input)),
  );
  expect(answers).toEqual(answers.map(() => ({ ok: true, value: { state: 'in_work' } })));
});

test('a seam that may cover a side airbag is blocked until the owner of the business releases it with a reason', async () => {
  const seam = aLine({
    part: 'seat_back',
    damage: 'open_seam',
    methods: ['re_sew'],
    byHandPrice: '140.00',
    byHandReason: 'no rate',
    byHandMaterialsPercent: '10',
  });
  const work = await approvedLine(installer, seam);
  const codes = await cautionCodes(work);
  expect(await start(work, codes)).toMatchObject(refusal('wrong_state'));
  const release = {
    workOrderId: work.workOrderId,
    lineId: work.lineId,
    reason: 'the maker’s instructions show a plain seam here',
  };
  expect(await releaseSeam(world.services, business.technician, release)).toMatchObject(
    refusal('not_allowed'),
  );
  expect(await releaseSeam(world.services, business.owner, { ...release, reason: ' ' })).toMatchObject(
    refusal('invalid_input'),
  );
  must(await releaseSeam(world.services, business.owner, release));
  expect(await start(work, codes)).toMatchObject({ ok: true });
});

test('a seam can’t be written down at the end around its release', async () => {
  const line = aLine({ ...cutLining, part: 'seat_bolster' });
  const work = await startedLine(installer, line);
  const said = [{ lineId: work.lineId, methods: ['re_sew'], layers: '' }];
  const input = { workOrderId: work.workOrderId, work: said, overrides: [] };
  expect(await finishWork(world.services, business.technician, input)).toMatchObject(refusal('wrong_state'));
});

async function finish(work: WorkInHand, change: Partial<Parameters<typeof finishWork>[2]> = {}) {
  const input = { workOrderId: work.workOrderId, work: [], overrides: [], ...change };
  return finishWork(world.services, business.technician, input);
}

test('work is not finished without the photos that the kind of account asks for', async () => {
  const work = await startedLine(installer);
  const missing = await finish(work);
  expect(missing).toMatchObject(refusal('photo_missing'));
  expect(!missing.ok && missing.problem.detail).toContain('after picture of Cut or tear, tailgate lining');
  await photographed(installer, work.workOrderId, work.lineId, 'after_heat');
  await photographed(installer, work.workOrderId, work.lineId, 'after');
  expect(await finish(work)).toEqual({ ok: true, value: { state: 'done' } });
  expect(await finish(work)).toEqual({ ok: true, value: { state: 'done' } });
});

test('a contradiction is mended or overridden with a reason, which is kept with the step', async () => {
  const work = await startedLine(installer);
  await photographed(installer, work.workOrderId, work.lineId, 'progress');
  await photographed(installer, work.workOrderId, work.lineId, 'after');
  const said = [{ lineId: work.lineId, methods: ['fill_cut', 'spray_texture'], layers: '3' }];
  const { contradictions } = must(
    await reviewWork(world.services, business.technician, { workOrderId: work.workOrderId, work: said }),
  );
  expect(contradictions.map(({ code }) => code)).toEqual([
    'cut_without_photo_after_heat',
    'spray_without_masking',
  ]);
  expect(await finish(work, { work: said })).toMatchObject(refusal('contradiction'));
  const mended = [{ lineId: work.lineId, methods: ['fill_cut', 'mask', 'spray_texture'], layers: '3' }];
  const blank = [{ code: 'cut_without_photo_after_heat', lineId: work.lineId, reason: '  ' }];
  expect(await finish(work, { work: mended, overrides: blank })).toMatchObject(refusal('contradiction'));
  const overrides = [
    {
      code: 'cut_without_photo_after_heat',
      lineId: work.lineId,
      reason: 'cut right through, seen in the progress photo',
    },
  ];
  expect(await finish(work, { work: mended, overrides })).toMatchObject({ ok: true });
  const view = must(await readWorkOrder(world.services, business.technician, work.workOrderId));
  expect(view.steps.at(-1)?.note).toContain('Reason: cut right through');
  const [line] = await asAdministrator(
    world,
    (sql) => sql`select methods, layers from work_order_lines where id = ${work.lineId}`,
  );
  expect(line).toEqual({ methods: ['fill_cut', 'mask', 'spray_texture'], layers: 3 });
});

test('where the account asks for no acceptance, finished work is accepted', async () => {
  const lot = await anAccount(business, { acceptanceRule: 'none', photoRule: 'lot', limit: null });
  const work = await photographedLine(lot);
  expect(await finish(work)).toEqual({ ok: true, value: { state: 'accepted' } });
});
