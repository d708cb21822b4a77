import type { LineId, WorkOrderId } from '@grainwright/domain';
import {
  addLine,
  lookUpVehicle,
  readLineToRepeat,
  readWorkOrder,
  repeatLine,
  voidWorkOrder,
  type WriteUpInput,
  writeUp,
} from '@grainwright/operations';
import { beforeAll, expect, test } from 'vitest';
import { type Browsing, openWeb, type Web } from './support/web.ts';
import {
  type Account,
  aBusiness,
  anAccount,
  type Business,
  must,
  openWorld,
  type World,
} from './support/world.ts';
import { aLine, aWriteUp, photoRow, writtenUp } from './support/write-ups.ts';

/** Writing up vehicle after vehicle of a lot: what is known of each, what is kept from one to the next, what repeats. */

let world: World;
let business: Business;
let lot: Account;
let web: Web;
let technician: Browsing;
let bearer: { authorization: string };

beforeAll(async () => {
  world = await openWorld();
  business = await aBusiness(world);
  lot = await anAccount(business, { name: 'Penny Lantern Autos', ownNumberKind: 'stock', photoRule: 'lot' });
  web = await openWeb(world);
  technician = await web.signInByPage(business.emailOf('technician'), business.password);
  bearer = await web.signIn(business.emailOf('technician'), business.password);
});

const place = () => `${lot.id}.${lot.siteId}`;
const byPage = (fields: Record<string, string>) =>
  technician.post('/field/write-up', {
    id: world.newId(),
    visit_id: world.newId(),
    place: place(),
    ...fields,
  });
const read = async (id: WorkOrderId) => must(await readWorkOrder(world.services, business.technician, id));
const write = (change: Partial<WriteUpInput>) =>
  writeUp(world.services, business.technician, aWriteUp(lot, change));
const call = async (method: 'GET' | 'POST', url: string, payload?: object) => {
  const reply = await web.app.inject({
    method,
    url: `/api/v1${url}`,
    headers: bearer,
    ...(payload && { payload }),
  });
  return { status: reply.statusCode, body: reply.json() };
};

test('a number that stands for a vehicle known here offers it, and it is written up as that one', async () => {
  world.at('2026-06-03T09:00');
  const first = await writtenUp(lot, { ownNumber: 'PL-401', vin: '1M8GDM9AXKP042788', modelYear: '' });
  world.at('2026-08-05T09:00');
  const offered = await byPage({ own_number: 'PL-401' });
  expect(offered.statusCode).toBe(200);
  expect(offered.body).toContain('Is it this one?');
  expect(offered.body).toContain('1989 Ostra Vela, gray');
  expect(offered.body).toMatch(/VIN ending in KP042788, last here .*Jun 3, 2026/);
  expect(offered.body).toContain('value="PL-401"');
  const { vehicle } = await read(first);
  const id = world.newId<WorkOrderId>();
  const taken = await byPage({ id, own_number: 'PL-401', vehicle_id: vehicle.id });
  expect(taken.statusCode).toBe(303);
  expect((await read(id)).vehicle).toEqual(vehicle);
});

test('“no, another vehicle” is written up as a new one', async () => {
  world.at('2026-08-06T09:00');
  must(await write({ ownNumber: 'PL-402', lastEight: 'SR402001', day: '2026-06-03' }));
  const id = world.newId<WorkOrderId>();
  const other = await byPage({ id, own_number: 'PL-402', vehicle_id: 'another' });
  expect(other.statusCode).toBe(303);
  expect((await read(id)).vehicle.lastEight).toBeNull();
});

test('the last 8 alone lead to the vehicle that is known by its whole VIN', async () => {
  world.at('2026-06-03T09:00');
  const first = await read(await writtenUp(lot, { ownNumber: 'PL-403', vin: '5N1NJ01CXST000001' }));
  world.at('2026-08-07T09:00');
  const second = await read(await writtenUp(lot, { ownNumber: 'PL-403', vin: '', lastEight: 'ST000001' }));
  expect(second.vehicle).toEqual(first.vehicle);
});

test('what is known can be asked before anything is written up, for one account and of this business only', async () => {
  world.at('2026-08-08T09:00');
  const { workOrderId } = must(await write({ ownNumber: 'PL-404', lastEight: 'SR404001' }));
  const asked = await call('GET', `/accounts/${lot.id}/vehicle-look-up?own_number=PL-404`);
  expect(asked).toMatchObject({
    status: 200,
    body: {
      known: [{ own_number: 'PL-404', last_eight: 'SR404001', last_day: '2026-08-08' }],
      earlier: [{ id: workOrderId, maybe_duplicate: true }],
    },
  });
  const elsewhere = await anAccount(business, { name: 'Hatch Street Motors', ownNumberKind: 'stock' });
  const input = { accountId: elsewhere.id, ownNumber: 'PL-404', vin: '', day: '' };
  const found = must(await lookUpVehicle(world.services, business.technician, input));
  expect(found.known).toEqual([]);
});

test('the same vehicle comes back beside its earlier work order, with three ways on', async () => {
  world.at('2026-08-09T09:00');
  const first = await writtenUp(lot, { ownNumber: 'PL-405', lastEight: 'SR405001' });
  const line = {
    lineId: world.newId<LineId>(),
    line: aLine({ part: 'carpet', damage: 'burn', family: 'Carpet' }),
  };
  must(await addLine(world.services, business.technician, { workOrderId: first, ...line }));
  const { number } = await read(first);
  const id = world.newId<WorkOrderId>();
  const typed = { id, own_number: 'PL-405', vin: 'SR405001', make: 'Corvane', in_row: 'yes' };
  const reply = await byPage(typed);
  expect(reply.statusCode).toBe(409);
  for (const words of [
    'Side by side',
    'Typed just now',
    `WO-${number}, written up`,
    'Burn, carpet',
    `The same damage: open WO-${number} instead`,
    'It is another damage: write it up',
    'value="Corvane"',
  ])
    expect(reply.body).toContain(words);
  expect((await call('GET', `/work-orders/${id}`)).status).toBe(404);
  expect((await byPage({ ...typed, another_damage: 'yes' })).statusCode).toBe(303);
  expect((await read(id)).steps.map(({ event }) => event)).toEqual(['written_up', 'another_damage']);
});

test('the next vehicle keeps place, day and what the visit is charged for, and asks only which it is', async () => {
  world.at('2026-08-10T09:00');
  const id = await writtenUp(lot, { ownNumber: 'PL-406', afterHours: true, rush: true });
  const page = await technician.get(`/field/work-orders/${id}`);
  const [, href = ''] = /href="([^"]*)">Next vehicle here</.exec(page.body) ?? [];
  const address = href.replaceAll('&amp;', '&');
  expect(address).toBe(`/field/write-up?place=${place()}&day=2026-08-10&after_hours=yes&rush=yes`);
  const form = await technician.get(address);
  expect(form.body).toContain('Which vehicle is next?');
  expect(form.body).toMatch(/<details *>/);
  const nextId = world.newId<WorkOrderId>();
  const kept = { day: '2026-08-10', after_hours: 'yes', rush: 'yes', in_row: 'yes' };
  expect((await byPage({ id: nextId, own_number: 'PL-407', ...kept })).statusCode).toBe(303);
  expect((await read(nextId)).visit).toEqual((await read(id)).visit);
});

const burn = aLine({
  part: 'seat_cushion',
  side: 'left',
  damage: 'burn',
  observation: 'by_eye',
  looksLike: 'fabric',
  methods: ['fill_cut'],
  measuredInches: '0.4',
  family: 'Cloth burn',
  note: 'under the left hand',
});

test('the last line of the visit is repeated on the next vehicle: without its note, its photos, or a price by hand', async () => {
  world.at('2026-08-11T09:00');
  const first = await writtenUp(lot, { ownNumber: 'PL-408' });
  const second = await writtenUp(lot, { ownNumber: 'PL-409' });
  const repeat = (workOrderId: WorkOrderId, lineId = world.newId<LineId>()) =>
    repeatLine(world.services, business.technician, { workOrderId, lineId });
  expect(await repeat(second)).toMatchObject({ ok: false, problem: { code: 'not_found' } });
  const lineId = world.newId<LineId>();
  const byHand = { byHandPrice: '40.00', byHandReason: 'agreed', byHandMaterialsPercent: '10', family: '' };
  must(
    await addLine(world.services, business.owner, {
      workOrderId: first,
      lineId: world.newId<LineId>(),
      line: aLine({ ...burn, ...byHand, part: 'headliner' }),
    }),
  );
  must(await addLine(world.services, business.technician, { workOrderId: first, lineId, line: burn }));
  await photoRow(lot, { workOrderId: first, lineId, purpose: 'before' });
  const again = world.newId<LineId>();
  const view = must(await repeat(second, again));
  expect(must(await repeat(second, again)).lines).toEqual(view.lines);
  const [line, ...others] = view.lines;
  expect(others).toEqual([]);
  const [original] = (await read(first)).lines.filter(({ id }) => id === lineId);
  expect(line).toMatchObject({
    id: again,
    entry: original?.entry,
    measuredInches: original?.measuredInches,
    note: '',
  });
  expect(view.photos).toEqual([]);
  expect(view.estimate?.lines[0]?.netMinor).toBe((await read(first)).estimate?.lines[1]?.netMinor);
});

const wear = aLine({
  part: 'seat_bolster',
  side: 'left',
  damage: 'wear',
  observation: 'by_eye',
  looksLike: 'leather',
  methods: ['degrease'],
  rateCode: 'LW-P',
});

test('by page and API: one tap repeats a line without a size, and leads on to its before picture', async () => {
  world.at('2026-08-12T09:00');
  const first = await writtenUp(lot, { ownNumber: 'PL-410' });
  const lineId = world.newId<LineId>();
  must(await addLine(world.services, business.technician, { workOrderId: first, lineId, line: wear }));
  const second = await writtenUp(lot, { ownNumber: 'PL-411' });
  expect((await technician.get(`/field/work-orders/${second}/lines/new`)).body).toContain(
    'Repeat the last line: Wear, seat bolster, left',
  );
  const again = world.newId<LineId>();
  const repeated = await technician.post(`/field/work-orders/${second}/lines/repeat`, { line_id: again });
  const { headers } = repeated;
  expect(headers.location).toBe(
    `/field/work-orders/${second}/photos?line_id=${again}&purpose=before&kept_line=${again}`,
  );
  const photo = await technician.get(String(headers.location));
  expect(photo.body).toContain('Line kept: Wear, seat bolster, left');
});

test('a size that picks the price is shown to be measured before the line is kept', async () => {
  world.at('2026-08-15T09:00');
  const first = await writtenUp(lot, { ownNumber: 'PL-417' });
  const lineId = world.newId<LineId>();
  must(await addLine(world.services, business.technician, { workOrderId: first, lineId, line: burn }));
  const second = await writtenUp(lot, { ownNumber: 'PL-418' });
  const again = world.newId<LineId>();
  const form = await technician.post(`/field/work-orders/${second}/lines/repeat`, { line_id: again });
  expect(form.statusCode).toBe(200);
  for (const words of ['Measure this one', 'value="0.4"', `value="${again}"`, 'Keep the line'])
    expect(form.body).toContain(words);
  expect(form.body).toMatch(/<option +value="Cloth burn" selected>/);
  expect((await read(second)).lines).toEqual([]);
  expect(await call('GET', `/work-orders/${second}/lines/repeat`)).toMatchObject({
    body: { line: { words: 'Burn, seat cushion, left', asks: 'size' } },
  });
  const path = `/work-orders/${second}/lines/repeat`;
  expect(await call('POST', path, { id: again, measured_inches: '0.3' })).toMatchObject({
    status: 201,
    body: { lines: [{ part: 'seat_cushion', family: 'Cloth burn', measured_inches: '0.3' }] },
  });
});

test('what a heat test showed is not repeated: the test is made on this vehicle', async () => {
  world.at('2026-08-16T09:00');
  const first = await writtenUp(lot, { ownNumber: 'PL-419' });
  const line = { ...burn, observation: 'softens_cleanly', looksLike: '', family: 'Vinyl cut or tear' };
  const tested = { ...line, damage: 'cut_or_tear', measuredInches: '1.6' };
  const lineId = world.newId<LineId>();
  must(await addLine(world.services, business.technician, { workOrderId: first, lineId, line: tested }));
  const second = await writtenUp(lot, { ownNumber: 'PL-420' });
  const again = world.newId<LineId>();
  const form = await technician.post(`/field/work-orders/${second}/lines/repeat`, { line_id: again });
  expect(form.body).toContain('What did the material do?');
  expect(form.body).toContain('name="family" value="Vinyl cut or tear"');
  expect(form.body).toContain('name="measured_inches" value="1.6"');
  const path = `/work-orders/${second}/lines/repeat`;
  expect(await call('POST', path, { id: again })).toMatchObject({
    status: 422,
    body: { code: 'invalid_input', detail: expect.stringContaining('Make the test on this vehicle') },
  });
  expect((await read(second)).lines).toEqual([]);
  const seen = { id: again, observation: 'relaxes_and_lies_down' };
  expect(await call('POST', path, seen)).toMatchObject({
    status: 201,
    body: { lines: [{ observation: 'relaxes_and_lies_down', measured_inches: '1.6' }] },
  });
});

test('what was repeated by mistake and voided is not what comes next', async () => {
  world.at('2026-08-13T09:00');
  const first = await writtenUp(lot, { ownNumber: 'PL-413' });
  must(
    await addLine(world.services, business.technician, {
      workOrderId: first,
      lineId: world.newId<LineId>(),
      line: burn,
    }),
  );
  const second = await writtenUp(lot, { ownNumber: 'PL-414' });
  const voided = { workOrderId: first, reason: 'written_in_error', note: '', duplicateOfId: null } as const;
  must(await voidWorkOrder(world.services, business.office, voided));
  expect(must(await readLineToRepeat(world.services, business.technician, second))).toBeNull();
});

test('a damage that was repaired before proposes its repair and methods; going back takes back what was only proposed', async () => {
  world.at('2026-08-14T09:00');
  const first = await writtenUp(lot, { ownNumber: 'PL-415' });
  const line = { ...burn, methods: ['fill_cut', 'mask'] };
  must(
    await addLine(world.services, business.technician, {
      workOrderId: first,
      lineId: world.newId<LineId>(),
      line,
    }),
  );
  const query = 'part=seat_back&damage=burn&observation=by_eye&looks_like=fabric';
  expect(await call('GET', `/repair-proposal?${query}`)).toEqual({
    status: 200,
    body: { family: 'Cloth burn', methods: ['fill_cut', 'mask'] },
  });
  const second = await writtenUp(lot, { ownNumber: 'PL-416' });
  const path = `/field/work-orders/${second}/lines/new`;
  const found = { part: 'seat_back', damage: 'burn', observation: 'by_eye', looks_like: 'fabric' };
  const shown = await technician.post(path, { ...found, step: 'found' });
  expect(shown.body).toMatch(/<option +value="Cloth burn" selected>/);
  expect(shown.body).toContain('Ticked as is usual; change what differs');
  const proposed = { family: 'Cloth burn', methods: 'fill_cut' };
  const changed = await technician.post(path, { ...found, ...proposed, step: 'damage' });
  expect(changed.body).toContain('name="family" value="Cloth burn"');
});
