import type { KeyTestId } from '@grainwright/domain';
import {
  finishWork,
  type RecordKeyTestInput,
  readWorkOrder,
  recordKeyTest,
  reviewWork,
} from '@grainwright/operations';
import { beforeAll, expect, test } from 'vitest';
import { finishedLine, photographed, startedLine, type WorkInHand } from './support/work-in-hand.ts';
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
let lot: Account;

beforeAll(async () => {
  world = await openWorld();
  business = await aBusiness(world);
  lot = await anAccount(business, { photoRule: 'lot', acceptanceRule: 'none', limit: null });
});

// The agreed demo figures: KF-1, test, new case and button pad.
const key = aLine({ part: 'key_remote', damage: 'worn_out_buttons', rateCode: 'KF-1' });
const allPass = {
  battery: 'pass',
  coating: 'pass',
  lock: 'pass',
  unlock: 'pass',
  trunk: 'pass',
  horn: 'pass',
};
const refusal = (code: string, field?: string) => ({
  ok: false,
  problem: field === undefined ? { code } : { code, field },
});

async function keyInWork(): Promise<WorkInHand> {
  const work = await startedLine(lot, key);
  await photographed(lot, work.workOrderId, work.lineId, 'after');
  return work;
}

const tested = (work: WorkInHand, steps: RecordKeyTestInput['steps'], id = world.newId<KeyTestId>()) =>
  recordKeyTest(world.services, business.technician, { id, ...work, steps });

const finish = ({ workOrderId }: WorkInHand, code?: string, lineId: WorkInHand['lineId'] | null = null) =>
  finishWork(world.services, business.technician, {
    workOrderId,
    work: [],
    overrides: code === undefined ? [] : [{ code, lineId, reason: 'the customer insists' }],
  });

test('a key’s case is sold only once every test passed', async () => {
  const work = await keyInWork();
  expect(await finish(work)).toMatchObject(refusal('contradiction'));
  expect(must(await tested(work, allPass))).toEqual({ verdict: 'passed' });
  expect(await finish(work)).toMatchObject({ ok: true, value: { state: 'accepted' } });
  const { keyTests } = must(await readWorkOrder(world.services, business.technician, work.workOrderId));
  expect(keyTests).toMatchObject([{ lineId: work.lineId, verdict: 'passed', sheet: allPass }]);
});

test('a case sold although a tap test failed is stopped, whatever the reason; the newest sheet counts', async () => {
  const work = await keyInWork();
  const failed = { ...allPass, unlock: 'fail', trunk: '', horn: '' };
  expect(must(await tested(work, failed))).toEqual({ verdict: 'failed' });
  const { contradictions } = must(
    await reviewWork(world.services, business.technician, { ...work, work: [] }),
  );
  expect(contradictions).toMatchObject([{ code: 'key_test_failed', weight: 'mend' }]);
  expect(await finish(work, 'key_test_failed', work.lineId)).toMatchObject(refusal('contradiction'));
  world.at('2026-08-05T09:30');
  must(await tested(work, { ...allPass, horn: 'not_fitted' }));
  expect(await finish(work)).toMatchObject({ ok: true });
});

test('the tests are made in order, and every key has a battery', async () => {
  const work = await keyInWork();
  expect(await tested(work, { ...allPass, coating: '' })).toMatchObject(refusal('invalid_input', 'coating'));
  expect(await tested(work, { ...allPass, battery: 'not_fitted' })).toMatchObject(
    refusal('invalid_input', 'battery'),
  );
  expect(await tested(work, { ...allPass, horn: 'maybe' })).toMatchObject(refusal('invalid_input', 'horn'));
});

test('the same sheet sent twice counts once; its id is good for nothing else', async () => {
  const work = await keyInWork();
  const id = world.newId<KeyTestId>();
  const once = await tested(work, allPass, id);
  expect(await tested(work, allPass, id)).toEqual(once);
  expect(await tested(work, { ...allPass, horn: 'fail' }, id)).toMatchObject(refusal('id_reused'));
});

test('only a key remote is tested, and only before its work is finished', async () => {
  const cut = await startedLine(lot);
  expect(await tested(cut, allPass)).toMatchObject(refusal('invalid_input', 'line_id'));
  const done = await finishedLine(await anAccount(business, { limit: null }));
  expect(await tested(done, allPass)).toMatchObject(refusal('wrong_state'));
});
