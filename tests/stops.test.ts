import { type SiteId, toId, type VisitId } from '@grainwright/domain';
import {
  addSite,
  dropStop,
  listDay,
  listToday,
  orderStops,
  planStop,
  readStop,
  voidWorkOrder,
} from '@grainwright/operations';
import { beforeAll, beforeEach, expect, test } from 'vitest';
import { type Browsing, openWeb, type Web } from './support/web.ts';
import {
  asAdministrator,
  finishedLine,
  startedLine,
  type WorkInHand,
  writtenUpLine,
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
import { writtenUp } from './support/write-ups.ts';

let world: World;
let business: Business;
let installer: Account;
let web: Web;
let technician: Browsing;
let office: Browsing;

beforeAll(async () => {
  world = await openWorld();
  business = await aBusiness(world);
  installer = await anAccount(business, { limit: null });
  web = await openWeb(world);
  technician = await web.signInByPage(business.emailOf('technician'), business.password);
  office = await web.signInByPage(business.emailOf('office'), business.password);
});

beforeEach(() => world.at('2026-08-05T09:00'));

/** A stop of the technician with one vehicle, at a place of its own. */
async function stopAt(name: string, day: string): Promise<VisitId> {
  const siteId = world.newId<SiteId>();
  const site = { id: siteId, accountId: installer.id, name, address: '9 Mill Lane', miles: '12' };
  must(await addSite(world.services, business.office, site));
  const visitId = world.newId<VisitId>();
  await writtenUp(installer, { siteId, visitId, day });
  return visitId;
}

const placesOn = async (day: string) =>
  must(await listToday(world.services, business.technician, { day })).stops.map(({ site }) => site.name);

/** Posts a form whose field comes several times, as the order’s buttons do. */
function postOrder(who: Browsing, url: string, fields: readonly (readonly [string, string])[]) {
  const payload = new URLSearchParams([
    ['_csrf', who.token],
    ...fields.map(([name, value]) => [name, value]),
  ]);
  return web.app.inject({
    method: 'POST',
    url,
    cookies: who.cookies,
    headers: { 'content-type': 'application/x-www-form-urlencoded' },
    payload: payload.toString(),
  });
}

test('stops stand in the order in which they were made until they are put in another one', async () => {
  const day = '2026-08-06';
  const first = await stopAt('North yard', day);
  const second = await stopAt('South yard', day);
  const third = await stopAt('East yard', day);
  expect(await placesOn(day)).toEqual(['North yard', 'South yard', 'East yard']);
  must(await orderStops(world.services, business.technician, { day, visitIds: [third, first, second] }));
  expect(await placesOn(day)).toEqual(['East yard', 'North yard', 'South yard']);
  await stopAt('West yard', day);
  expect((await placesOn(day)).at(-1)).toBe('West yard');
});

test('an order that misses a stop is refused, and nothing moves', async () => {
  const day = '2026-08-07';
  const first = await stopAt('Upper bay', day);
  await stopAt('Lower bay', day);
  expect(await orderStops(world.services, business.technician, { day, visitIds: [first] })).toMatchObject({
    ok: false,
    problem: { code: 'invalid_input', field: 'visit_ids' },
  });
  expect(await placesOn(day)).toEqual(['Upper bay', 'Lower bay']);
});

test('the page’s buttons move a stop without JavaScript, and say so where the day has changed meanwhile', async () => {
  const day = '2026-08-08';
  await stopAt('Gate one', day);
  await stopAt('Gate two', day);
  const page = (await technician.get(`/field?day=${day}`)).body;
  const form = /<form method="post" action="\/field\/stops\/order">([\s\S]*?)<\/form>/.exec(page)?.[1] ?? '';
  expect(form).toContain('Later');
  const order = [...form.matchAll(/name="visit_ids" value="([^"]+)"/g)].map(
    ([, id]) => ['visit_ids', id ?? ''] as const,
  );
  const moved = await postOrder(technician, '/field/stops/order', [['day', day], ...order]);
  expect(moved.headers.location).toBe(`/field?day=${day}`);
  expect(await placesOn(day)).toEqual(['Gate two', 'Gate one']);
  await stopAt('Gate three', day);
  const stale = await postOrder(technician, '/field/stops/order', [['day', day], ...order]);
  expect(stale.statusCode).toBe(422);
  expect(stale.body).toContain('The stops of this day are others by now');
  expect(stale.body).toContain('Gate three');
});

test('the office orders the day of a technician, who may not order anybody else’s', async () => {
  const day = '2026-08-09';
  const first = await stopAt('Front lot', day);
  const second = await stopAt('Back lot', day);
  const technicianId = business.technician.personId;
  const mine = { day, visitIds: [second, first] };
  expect(
    await orderStops(world.services, business.technician, {
      ...mine,
      technicianId: business.office.personId,
    }),
  ).toMatchObject({ ok: false, problem: { code: 'not_allowed' } });
  const page = (await office.get(`/office/stops?day=${day}`)).body;
  expect(page).toContain('Tobias Wrenfield');
  expect(page.indexOf('Front lot')).toBeLessThan(page.indexOf('Back lot'));
  const moved = await postOrder(office, '/office/stops/order', [
    ['day', day],
    ['technician_id', technicianId],
    ['visit_ids', second],
    ['visit_ids', first],
  ]);
  expect(moved.headers.location).toBe(`/office/stops?day=${day}`);
  const { technicians } = must(await listDay(world.services, business.office, { day }));
  expect(technicians[0]?.stops.map(({ site, position }) => [position, site.name])).toEqual([
    [1, 'Back lot'],
    [2, 'Front lot'],
  ]);
});

test('a stop tells what is left to do there, in words, and leads to the next step of each vehicle', async () => {
  const account = await anAccount(business, { limit: null });
  const toPhotograph = await writtenUpLine(account);
  await startedLine(account);
  await finishedLine(account);
  const { stops } = must(await listToday(world.services, business.technician));
  const here = stops.find((stop) => stop.account.id === account.id);
  expect(here?.left).toBe('1 to photograph, 1 to finish, 1 to accept');
  const { body } = await technician.get(`/field/stops/${here?.visitId}`);
  expect(body).toContain('3 vehicles: 1 to photograph, 1 to finish, 1 to accept');
  expect(body).toContain(
    `/field/work-orders/${toPhotograph.workOrderId}/photos?line_id=${toPhotograph.lineId}&amp;purpose=before`,
  );
  expect(body).toContain('Hand over for acceptance');
  expect(body).toContain('Next vehicle here');
  const day = (await technician.get('/field')).body;
  expect(day).toContain('1 to photograph, 1 to finish, 1 to accept');
  expect(day).toContain('take the before picture');
});

test('what was left open on earlier days stands on today with its next task, the oldest first, for 30 days', async () => {
  const own = await aBusiness(world);
  const account = await anAccount(own, { limit: null });
  const unsigned = await anAccount(own, { acceptanceRule: 'none', limit: null });
  const on = async (day: string, make: (of: Account) => Promise<WorkInHand>, of = account) => {
    world.at(`${day}T09:00`);
    return (await make(of)).workOrderId;
  };
  await on('2026-08-05', finishedLine);
  const begun = await on('2026-08-06', startedLine);
  const toSign = await on('2026-08-20', finishedLine);
  await on('2026-08-20', finishedLine, unsigned);
  const dropped = await on('2026-08-21', writtenUpLine);
  const told = { workOrderId: dropped, reason: 'vehicle_not_there', note: '', duplicateOfId: null } as const;
  must(await voidWorkOrder(world.services, own.technician, told));
  world.at('2026-09-05T09:00');
  await writtenUpLine(account);
  const headers = await web.signIn(own.emailOf('technician'), own.password);
  const today = async (query = '') =>
    (await web.app.inject({ url: `/api/v1/today${query}`, headers })).json().left_from_earlier;
  expect(await today()).toMatchObject({
    work_orders: [
      { id: begun, day: '2026-08-06', next: 'after_photo' },
      { id: toSign, day: '2026-08-20', next: 'hand_over' },
    ],
    more: false,
  });
  expect(await today('?day=2026-08-20')).toEqual({ work_orders: [], more: false });
  const page = (await (await web.signInByPage(own.emailOf('technician'), own.password)).get('/field')).body;
  expect(page).toContain('Left from earlier days');
  expect(page).toContain('hand over for acceptance');
  expect(page).not.toContain('More that is left');
});

test('of more than 20 that are left, the page lists the oldest and leads on to all', async () => {
  const own = await aBusiness(world);
  const account = await anAccount(own, { limit: null });
  world.at('2026-08-04T09:00');
  for (let each = 0; each < 21; each += 1) await writtenUp(account, { day: '2026-08-04' });
  world.at('2026-08-05T09:00');
  const first = must(await listToday(world.services, own.technician)).left;
  expect([first.workOrders.length, first.more]).toEqual([20, true]);
  const all = must(await listToday(world.services, own.technician, { allLeft: true })).left;
  expect([all.workOrders.length, all.more]).toEqual([21, false]);
  const browsing = await web.signInByPage(own.emailOf('technician'), own.password);
  expect((await browsing.get('/field')).body).toContain('href="/field?left=all"');
  expect((await browsing.get('/field?left=all')).body).not.toContain('/field?left=all');
});

test('whoever can be called at the account is one tap away', async () => {
  const account = await anAccount(business, { limit: null });
  await writtenUpLine(account);
  const stop = async () =>
    must(await listToday(world.services, business.technician)).stops.find(
      (each) => each.account.id === account.id,
    );
  expect((await stop())?.phone).toBeNull();
  await asAdministrator(
    world,
    (sql) => sql`update people set phone = '(555) 555-0117' where id = ${account.approver.personId}`,
  );
  expect((await stop())?.phone).toEqual({ name: 'Ansel Corvin', phone: '(555) 555-0117' });
  expect((await technician.get('/field')).body).toContain('href="tel:5555550117"');
});

test('the API lists, reads and orders stops as the pages do', async () => {
  const day = '2026-08-10';
  const first = await stopAt('Bay one', day);
  const second = await stopAt('Bay two', day);
  const headers = await web.signIn(business.emailOf('technician'), business.password);
  const payload = { day, visit_ids: [second, first] };
  const ordered = await web.app.inject({ method: 'PUT', url: '/api/v1/stops/order', headers, payload });
  expect(ordered.json()).toEqual({ day, visit_ids: [second, first] });
  const today = (await web.app.inject({ url: `/api/v1/today?day=${day}`, headers })).json();
  expect(today.stops).toMatchObject([
    { visit_id: second, position: 1, left: '1 to write up', work_orders: [{ next: 'add_line' }] },
    { visit_id: first, position: 2 },
  ]);
  const stop = (await web.app.inject({ url: `/api/v1/visits/${second}`, headers })).json();
  expect(stop).toMatchObject({ day, site: { name: 'Bay two' } });
  const all = await web.app.inject({ url: `/api/v1/stops?day=${day}`, headers });
  expect(all.statusCode).toBe(403);
});

test('the office plans a stop before its first vehicle, which the technician then writes up there', async () => {
  const day = '2026-08-12';
  await stopAt('Known place', day);
  const technicianId = business.technician.personId;
  const planned = await office.post('/office/stops', {
    id: world.newId(),
    technician_id: technicianId,
    place: `${installer.id}.${installer.siteId}`,
    day,
  });
  expect(planned.headers.location).toBe(`/office/stops?day=${day}`);
  const { stops } = must(await listToday(world.services, business.technician, { day }));
  expect(stops.map(({ position, workOrders }) => [position, workOrders.length])).toEqual([
    [1, 1],
    [2, 0],
  ]);
  const stop = stops[1]?.visitId ?? toId<VisitId>(world.newId());
  const body = (await technician.get(`/field/stops/${stop}`)).body;
  expect(body).toContain('No vehicle written up yet');
  expect(body).toContain('Write up a vehicle here');
  await writtenUp(installer, { day });
  const after = must(await readStop(world.services, business.technician, stop));
  expect(after.workOrders).toHaveLength(1);
  const kept = await office.post(`/office/stops/${stop}/drop`, { day });
  expect(kept.statusCode).toBe(409);
  expect(kept.body).toContain('A vehicle is written up there, so the stop stays.');
});

test('a planned stop without a vehicle is taken off again, and only the office plans the days of others', async () => {
  const day = '2026-08-13';
  const place = { accountId: installer.id, siteId: installer.siteId, day, afterHours: false, rush: false };
  const visitId = world.newId<VisitId>();
  const others = { ...place, visitId, technicianId: business.office.personId };
  expect(await planStop(world.services, business.technician, others)).toMatchObject({
    ok: false,
    problem: { code: 'not_allowed' },
  });
  const bookkeeper = { ...others, technicianId: business.bookkeeper.personId };
  expect(await planStop(world.services, business.office, bookkeeper)).toMatchObject({
    ok: false,
    problem: { code: 'invalid_input', field: 'technician_id' },
  });
  must(await planStop(world.services, business.technician, { ...place, visitId }));
  must(await planStop(world.services, business.technician, { ...place, visitId }));
  expect(await placesOn(day)).toHaveLength(1);
  must(await dropStop(world.services, business.technician, visitId));
  expect(await placesOn(day)).toHaveLength(0);
  const unsaid = await office.post('/office/stops', { id: world.newId(), day, place: '', technician_id: '' });
  expect(unsaid.statusCode).toBe(422);
  expect(unsaid.body).toContain('Choose the account and its place.');
});

test('a stop of another business is not there', async () => {
  const other = await aBusiness(world);
  const visitId = await stopAt('Ours alone', '2026-08-11');
  expect(await readStop(world.services, other.technician, visitId)).toMatchObject({
    ok: false,
    problem: { code: 'not_found' },
  });
  const nowhere = toId<VisitId>(world.newId());
  expect((await technician.get(`/field/stops/${nowhere}`)).statusCode).toBe(404);
});
