import type { LineId } from '@grainwright/domain';
import {
  addLine,
  changeLine,
  type LineInput,
  listEarlierWork,
  readWorkOrder,
  voidWorkOrder,
  type WriteUpInput,
  writeUp,
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
import { aLine, aWriteUp } from './support/write-ups.ts';

let world: World;
let business: Business;
let lot: Account;

// The agreed demo figures: a used-car lot by stock number; WO-1001 on Aug 3, written up again on Aug 21 as WO-1013.
const lotTerms = {
  name: 'Penny Lantern Autos',
  kind: 'used_car_lot',
  tierCode: 'lot',
  ownNumberKind: 'stock',
  ownNumberRequired: true,
  acceptanceRule: 'account_representative',
  photoRule: 'lot',
} as const;

beforeAll(async () => {
  world = await openWorld();
  business = await aBusiness(world);
  lot = await anAccount(business, lotTerms);
});

const carpet = aLine({ part: 'carpet', damage: 'burn', family: 'Carpet' });
const written = (ownNumber: string, lastEight: string, change: Partial<WriteUpInput> = {}) =>
  writeUp(world.services, business.technician, aWriteUp(lot, { ownNumber, lastEight, ...change }));
/** As `written`, by somebody who says that it is another damage than what was written up lately. */
const writtenAgain = (ownNumber: string, lastEight: string) =>
  written(ownNumber, lastEight, { anotherDamage: true });
const lineOn = (workOrderId: Parameters<typeof readWorkOrder>[2], line: LineInput, anotherDamage?: boolean) =>
  addLine(world.services, business.technician, {
    workOrderId,
    lineId: world.newId<LineId>(),
    line,
    anotherDamage,
  });
const duplicate = { ok: false, problem: { code: 'duplicate', field: 'another_damage' } };

// Common practice, no source: the same vehicle within 30 days asks whether it is the same damage.
test('the same vehicle within 30 days is noticed before anything of it is saved', async () => {
  world.at('2026-08-03T09:00');
  const first = must(await written('PL-220', 'SR220001'));
  expect(first.warnings).toEqual([]);
  must(await lineOn(first.workOrderId, carpet));
  world.at('2026-08-21T09:00');
  const second = await written('PL-220', 'SR220001');
  expect(second).toMatchObject(duplicate);
  expect(second).toMatchObject({
    problem: { detail: expect.stringContaining('WO-1001 of Aug 3, 2026 by Tobias Wrenfield (written up)') },
  });
  const numbered = must(await written('PL-219', 'SR219001'));
  expect(numbered.number).toBe(1002n);
});

test('that it is another damage is said at the write-up, once, and stays on record', async () => {
  world.at('2026-08-21T09:00');
  const input = aWriteUp(lot, { ownNumber: 'PL-220', lastEight: 'SR220001' });
  expect(await writeUp(world.services, business.technician, input)).toMatchObject(duplicate);
  const said = { ...input, anotherDamage: true };
  const again = must(await writeUp(world.services, business.technician, said));
  // A lost answer: the same once more, whether or not it is said again.
  expect(must(await writeUp(world.services, business.technician, input))).toEqual(again);
  expect(must(await writeUp(world.services, business.technician, said))).toEqual(again);
  const { steps } = must(await readWorkOrder(world.services, business.technician, again.workOrderId));
  expect(steps.map(({ event, note }) => [event, note])).toEqual([
    ['written_up', ''],
    ['another_damage', 'Another damage than on WO-1001 of Aug 3, 2026 by Tobias Wrenfield (written up).'],
  ]);
});

test('the same part of it is noticed again with its line', async () => {
  world.at('2026-08-21T09:30');
  const again = must(await writtenAgain('PL-220', 'SR220001'));
  const refused = await lineOn(again.workOrderId, carpet);
  expect(refused).toMatchObject(duplicate);
  expect(refused).toMatchObject({ problem: { detail: expect.stringContaining('WO-1001 of Aug 3, 2026') } });
  const { lines } = must(await readWorkOrder(world.services, business.technician, again.workOrderId));
  expect(lines).toEqual([]);
});

test('that a line is another damage is said once, and stays on record', async () => {
  world.at('2026-08-21T10:00');
  const [first, second] = [
    must(await written('PL-221', 'SR221001')),
    must(await writtenAgain('PL-221', 'SR221001')),
  ];
  must(await lineOn(first.workOrderId, carpet));
  const view = must(await lineOn(second.workOrderId, carpet, true));
  expect(view.lines.map(({ words }) => words)).toEqual(['Burn, carpet']);
  expect(view.steps.map(({ event, note }) => [event, note])).toContainEqual([
    'another_damage',
    `Burn, carpet: another damage than on WO-${first.number} of Aug 21, 2026 by Tobias Wrenfield (written up).`,
  ]);
});

test('another part, another side or another vehicle is no duplicate', async () => {
  world.at('2026-08-21T11:00');
  const first = must(await written('PL-222', 'SR222001'));
  must(await lineOn(first.workOrderId, aLine({ part: 'front_door_panel', side: 'left' })));
  const second = must(await writtenAgain('PL-222', 'SR222001'));
  must(await lineOn(second.workOrderId, aLine({ part: 'front_door_panel', side: 'right' })));
  must(await lineOn(second.workOrderId, carpet));
  const other = must(await written('PL-223', 'SR223001'));
  must(await lineOn(other.workOrderId, carpet));
  expect(await lineOn(second.workOrderId, aLine({ part: 'front_door_panel' }))).toMatchObject(duplicate);
});

test('a line moved to a part that was written up lately is noticed as well', async () => {
  const first = must(await written('PL-224', 'SR224001'));
  must(await lineOn(first.workOrderId, carpet));
  const second = must(await writtenAgain('PL-224', 'SR224001'));
  const lineId = world.newId<LineId>();
  const change = { workOrderId: second.workOrderId, lineId };
  must(await addLine(world.services, business.technician, { ...change, line: aLine({ part: 'headliner' }) }));
  const moved = { ...change, line: carpet };
  expect(await changeLine(world.services, business.technician, moved)).toMatchObject(duplicate);
  must(await changeLine(world.services, business.technician, { ...moved, anotherDamage: true }));
});

test('the account’s own number is enough where no VIN was written down', async () => {
  const first = must(
    await writeUp(world.services, business.technician, aWriteUp(lot, { ownNumber: 'PL-225', lastEight: '' })),
  );
  must(await lineOn(first.workOrderId, carpet));
  expect(await written('PL-225', 'SR225001')).toMatchObject(duplicate);
  const second = must(await writtenAgain('PL-225', 'SR225001'));
  expect(await lineOn(second.workOrderId, carpet)).toMatchObject(duplicate);
});

test('the same number on a vehicle with another VIN is no duplicate, but asks to look again', async () => {
  const first = must(await written('PL-226', 'SR226001'));
  must(await lineOn(first.workOrderId, carpet));
  const second = must(await written('PL-226', 'SR226999'));
  expect(second.warnings).toEqual([
    `PL-226 stands for a VIN ending in SR226001 on WO-${first.number}, not in SR226999. Look at the number and the VIN again.`,
  ]);
  must(await lineOn(second.workOrderId, carpet));
});

test('after 30 days, or once the other one is void, nothing is noticed', async () => {
  world.at('2026-08-22T09:00');
  const first = must(await written('PL-227', 'SR227001'));
  must(await lineOn(first.workOrderId, carpet));
  world.at('2026-09-22T09:00');
  const later = must(await written('PL-227', 'SR227001'));
  must(await lineOn(later.workOrderId, carpet));
  const voided = { workOrderId: later.workOrderId, reason: 'written_in_error', note: '' } as const;
  must(await voidWorkOrder(world.services, business.office, { ...voided, duplicateOfId: null }));
  const third = must(await written('PL-227', 'SR227001'));
  must(await lineOn(third.workOrderId, carpet));
});

test('what else was written up of the vehicle can be laid beside it', async () => {
  world.at('2026-09-23T09:00');
  const first = must(await written('PL-228', 'SR228001'));
  must(await lineOn(first.workOrderId, carpet));
  const second = must(await writtenAgain('PL-228', 'SR228001'));
  const earlier = must(await listEarlierWork(world.services, business.technician, second.workOrderId));
  expect(earlier).toMatchObject([
    { id: first.workOrderId, maybeDuplicate: true, maybeComeback: false, lines: [{ words: 'Burn, carpet' }] },
  ]);
});

test('a vehicle of another account is not refused, but the write-up says where it was seen', async () => {
  world.at('2026-09-24T09:00');
  const other = await anAccount(business, { name: 'Hatch Street Motors', ownNumberKind: 'stock' });
  const there = must(
    await writeUp(world.services, business.technician, aWriteUp(other, { lastEight: 'SR229001' })),
  );
  const here = must(await written('PL-229', 'SR229001'));
  expect(here.warnings).toEqual([
    expect.stringContaining(`too, WO-${there.number} for Hatch Street Motors by Tobias Wrenfield`),
  ]);
});
