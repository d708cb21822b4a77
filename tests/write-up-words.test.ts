import type { LineId, VersionId, WorkOrderId } from '@grainwright/domain';
import { addLine, listPhotosToTake, readWorkOrder, submitEstimate, writeUp } from '@grainwright/operations';
import { beforeAll, expect, test } from 'vitest';
import { cutLining } from './support/work-in-hand.ts';
import {
  type Account,
  aBusiness,
  anAccount,
  type Business,
  must,
  openWorld,
  type World,
} from './support/world.ts';
import { aWriteUp, photoRow, sent, writtenUp } from './support/write-ups.ts';

let world: World;
let business: Business;
let installer: Account;

beforeAll(async () => {
  world = await openWorld();
  business = await aBusiness(world);
  installer = await anAccount(business, { ownNumberKind: 'job' });
});

async function addedCut(workOrderId: WorkOrderId): Promise<LineId> {
  const lineId = world.newId<LineId>();
  must(await addLine(world.services, business.technician, { lineId, workOrderId, line: cutLining }));
  return lineId;
}

test('lines of the same damage and part are told apart wherever they are named', async () => {
  const workOrderId = await writtenUp(installer);
  const ids = [await addedCut(workOrderId), await addedCut(workOrderId)];
  for (const lineId of ids) await photoRow(installer, { workOrderId, lineId, purpose: 'before' });
  await sent(installer, workOrderId);
  const names = ['Cut or tear, tailgate lining', 'Cut or tear, tailgate lining (2)'];
  const view = must(await readWorkOrder(world.services, installer.viewer, workOrderId));
  expect(view.lines.map(({ words }) => words)).toEqual(names);
  expect(must(await listPhotosToTake(world.services, business.technician, workOrderId)).lines).toEqual(
    ids.map((id, index) => ({ id, label: names[index] })),
  );
});

test('an estimate sent a second time is said to be sent already, with its version and when', async () => {
  const workOrderId = await writtenUp(installer);
  const lineId = await addedCut(workOrderId);
  await photoRow(installer, { workOrderId, lineId, purpose: 'before' });
  await sent(installer, workOrderId);
  const again = { workOrderId, versionId: world.newId<VersionId>() };
  expect(await submitEstimate(world.services, business.technician, again)).toMatchObject({
    ok: false,
    problem: {
      code: 'duplicate',
      detail: expect.stringMatching(/^It is already sent \(version 1, .* [AP]M\)\.$/),
    },
  });
});

test('a model year that can’t be is held against what the VIN says', async () => {
  // 1M8GDM9AXKP042788 is the worked example of 49 CFR 565 with check digit X; K in position 10 with a digit in 7 is 1989.
  const year = async (modelYear: string, vin: string) => {
    const written = aWriteUp(installer, { vin, modelYear });
    const done = await writeUp(world.services, business.technician, written);
    return done.ok ? '' : done.problem.detail;
  };
  expect(await year('3000', '1M8GDM9AXKP042788')).toBe('3000 is too late; the VIN says 1989.');
  expect(await year('1066', '1M8GDM9AXKP042788')).toBe('1066 is too early; the VIN says 1989.');
  expect(await year('3000', '')).toBe('3000 is too late. Check the model year.');
  expect(await year('25', '')).toBe('Write the model year with four digits, like 2025.');
});

test('a vehicle of which nothing else is known goes by the account’s own number', async () => {
  const named = { modelYear: '', make: '', model: '', color: '', lastEight: '', ownNumber: 'BG-7731' };
  const workOrderId = await writtenUp(installer, named);
  const view = must(await readWorkOrder(world.services, business.technician, workOrderId));
  expect(view.vehicle.description).toBe('Vehicle BG-7731');
});
