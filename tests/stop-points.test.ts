import type { StopPointId } from '@grainwright/domain';
import { type AddStopPointInput, addStopPoint, readWorkOrder, showAcceptance } from '@grainwright/operations';
import { beforeAll, expect, test } from 'vitest';
import { approvedLine, finishedLine, photographed, type WorkInHand } from './support/work-in-hand.ts';
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
let installer: Account;

beforeAll(async () => {
  world = await openWorld();
  business = await aBusiness(world);
  installer = await anAccount(business, { limit: null });
});

const refusal = (code: string, field?: string) => ({
  ok: false,
  problem: field === undefined ? { code } : { code, field },
});

async function stopped(work: WorkInHand, change: Partial<AddStopPointInput> = {}) {
  const photoId = await photographed(installer, work.workOrderId, work.lineId, 'stop_point');
  return addStopPoint(world.services, business.technician, {
    id: world.newId<StopPointId>(),
    ...work,
    photoId,
    note: 'a faint edge along the lower seam; more would widen it',
    shown: true,
    ...change,
  });
}

// Common practice, no source: stopping on purpose is part of the record, with a picture.
test('a stop point that is shown stands in what the owner signs, with its picture', async () => {
  const work = await finishedLine(installer);
  must(await stopped(work));
  const { shown, parts } = must(await showAcceptance(world.services, business.technician, work.workOrderId));
  expect(shown.work.map(({ text }) => text)).toEqual([
    'Cut or tear, tailgate lining: repaired. Steps: cold graining. Stopped on purpose: a faint edge along the lower seam; more would widen it.',
  ]);
  expect(shown.photos.map(({ purpose }) => purpose)).toEqual(['before', 'stop_point', 'after']);
  expect(parts[0]?.stopped).toHaveLength(1);
  const asAccount = must(await readWorkOrder(world.services, installer.viewer, work.workOrderId));
  expect(asAccount.stopPoints).toMatchObject([{ lineId: work.lineId, shown: true }]);
});

test('one that is not shown stays with the business', async () => {
  const work = await finishedLine(installer);
  must(await stopped(work, { shown: false }));
  const { shown } = must(await showAcceptance(world.services, business.technician, work.workOrderId));
  expect(JSON.stringify(shown)).not.toContain('lower seam');
  expect(shown.photos.map(({ purpose }) => purpose)).toEqual(['before', 'after']);
  const read = (actor: typeof business.office) => readWorkOrder(world.services, actor, work.workOrderId);
  expect(must(await read(business.office)).stopPoints).toMatchObject([{ shown: false }]);
  const asAccount = must(await read(installer.viewer));
  expect(asAccount.stopPoints).toEqual([]);
  expect(JSON.stringify(asAccount.steps)).not.toContain('lower seam');
});

test('it needs a picture of that very line, taken as a stop point, and plain words', async () => {
  const work = await finishedLine(installer);
  const other = await photographed(installer, work.workOrderId, work.lineId, 'progress');
  expect(await stopped(work, { photoId: other })).toMatchObject(refusal('photo_missing', 'photo_id'));
  expect(await stopped(work, { note: ' ' })).toMatchObject(refusal('invalid_input', 'note'));
  expect(await stopped(work, { note: 'otherwise like new' })).toMatchObject(refusal('invalid_input', 'note'));
  const unstarted = await approvedLine(installer);
  expect(await stopped(unstarted)).toMatchObject(refusal('wrong_state'));
});
