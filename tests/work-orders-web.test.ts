import { toId } from '@grainwright/domain';
import { beforeAll, expect, test } from 'vitest';
import { type Browsing, openWeb, type Web } from './support/web.ts';
import { type Account, aBusiness, anAccount, type Business, openWorld, type World } from './support/world.ts';
import { photoRow } from './support/write-ups.ts';

let world: World;
let web: Web;
let business: Business;
let installer: Account;
let technician: Browsing;
let bearer: { authorization: string };

beforeAll(async () => {
  world = await openWorld();
  web = await openWeb(world);
  business = await aBusiness(world);
  installer = await anAccount(business, { ownNumberKind: 'job', name: 'Brackwater <Glass> & Screen' });
  technician = await web.signInByPage(business.emailOf('technician'), business.password);
  bearer = await web.signIn(business.emailOf('technician'), business.password);
});

const place = () => `${installer.id}.${installer.siteId}`;

function hidden(body: string, name: string): string {
  return new RegExp(`name="${name}" value="([^"]*)"`).exec(body)?.[1] ?? '';
}

async function writeUpByPage(fields: Record<string, string>) {
  const page = await technician.get(`/field/write-up?place=${place()}`);
  const ids = { id: hidden(page.body, 'id'), visit_id: hidden(page.body, 'visit_id') };
  return technician.post('/field/write-up', { ...ids, place: place(), ...fields });
}

/** Where a write-up leads, without the first line that comes at once. */
function workOrderOf({ headers }: Awaited<ReturnType<typeof writeUpByPage>>): string {
  return String(headers.location).replace(/\/lines\/new$/, '');
}

const cutFields = {
  part: 'tailgate_lining',
  damage: 'cut_or_tear',
  observation: 'relaxes_and_lies_down',
  family: 'Vinyl cut or tear',
  measured_inches: '2.2',
};

test('a technician goes from an empty day to an estimate that is sent, without JavaScript', async () => {
  const today = await technician.get('/field');
  expect(today.body).toContain('No stops yet today');
  const places = await technician.get('/field/write-up');
  expect(places.body).toContain('Brackwater &lt;Glass&gt; &amp; Screen, Main yard');
  const written = await writeUpByPage({
    last_eight: 'SR004211',
    own_number: 'BG-9107',
  });
  expect(written.statusCode).toBe(303);
  const path = workOrderOf(written);
  expect(written.headers.location).toBe(`${path}/lines/new`);
  expect((await technician.get(path)).body).toContain('Add a line');
  const form = await technician.get(`${path}/lines/new`);
  const line_id = hidden(form.body, 'line_id');
  const found = await technician.post(`${path}/lines/new`, { ...cutFields, line_id, step: 'found' });
  expect(found.statusCode).toBe(200);
  expect(found.body).toContain('Likely foam-backed vinyl');
  expect(found.body).toContain(
    'All-purpose texture from a can: its grain is another one, and stays in sight',
  );
  const kept = await technician.post(`${path}/lines/new`, { ...cutFields, line_id, step: 'save' });
  expect(kept.headers.location).toBe(`${path}/photos?line_id=${line_id}&purpose=before&kept_line=${line_id}`);
  expect((await technician.get(String(kept.headers.location))).body).toContain(
    'Line kept: Cut or tear, tailgate lining, $165.75',
  );
  // 195.00 less 15 % (trade) is 165.75; the only repair, so 100 %.
  expect((await technician.get(`${path}/lines/${line_id}`)).body).toContain('$165.75');
  expect((await technician.get(path)).body).toContain('Take the before picture');
  const workOrder = (
    await web.app.inject({ url: `/api/v1${path.replace('/field', '')}`, headers: bearer })
  ).json();
  await photoRow(installer, { workOrderId: workOrder.id, lineId: workOrder.lines[0].id, purpose: 'before' });
  const ready = await technician.get(path);
  expect(ready.body).toContain('Send for approval');
  const version_id = hidden(ready.body, 'version_id');
  expect((await technician.post(`${path}/estimate`, { version_id })).statusCode).toBe(303);
  expect((await technician.post(`${path}/estimate`, { version_id })).statusCode).toBe(303);
  expect((await technician.get(path)).body).toContain('waiting for approval');
  expect((await technician.get('/field')).body).toContain('BG-9107');
});

test('a VIN with the letter O comes back with the message beside its field and all that was typed', async () => {
  const reply = await writeUpByPage({
    vin: '1M8GDM9AXKPO42788',
    make: 'Corvane',
    owner_name: 'Odile Marchetti',
  });
  expect(reply.statusCode).toBe(422);
  expect(reply.body).toContain('Position 12 is the letter O, probably 0');
  expect(reply.body).toContain('id="field-vin-error"');
  expect(reply.body).toContain('value="Corvane"');
  expect(reply.body).toContain('value="Odile Marchetti"');
});

test('a VIN with a wrong check digit is used as it was written, and the doubt stays on the page', async () => {
  const reply = await writeUpByPage({ vin: '1M8GDM9A1KP042788' });
  expect(reply.statusCode).toBe(303);
  const page = await technician.get(String(reply.headers.location));
  expect(page.body).toContain('Position 9 is 1; for these characters it would be X');
});

test('a refused line comes back on the screen of its field, with what was typed', async () => {
  const written = await writeUpByPage({ last_eight: 'SR004212' });
  const path = workOrderOf(written);
  const line_id = world.newId();
  const small = await technician.post(`${path}/lines/new`, {
    ...cutFields,
    line_id,
    measured_inches: '-1',
    step: 'save',
  });
  expect(small.statusCode).toBe(422);
  expect(small.body).toContain('id="field-measured_inches-error"');
  const nowhere = await technician.post(`${path}/lines/new`, {
    ...cutFields,
    line_id,
    part: '',
    step: 'save',
  });
  expect(nowhere.statusCode).toBe(422);
  expect(nowhere.body).toContain('id="field-part-error"');
  expect(nowhere.body).toContain('name="measured_inches" value="2.2"');
});

test('sending without a before picture says which one is missing', async () => {
  const written = await writeUpByPage({ last_eight: 'SR004213' });
  const path = workOrderOf(written);
  const line_id = world.newId();
  await technician.post(`${path}/lines/new`, { ...cutFields, line_id, step: 'save' });
  const reply = await technician.post(`${path}/estimate`, { version_id: world.newId() });
  expect(reply.statusCode).toBe(409);
  expect(reply.body).toContain('before picture of Cut or tear, tailgate lining');
  expect((await technician.post(`${path}/lines/${line_id}/remove`, {})).headers.location).toBe(path);
});

test('damage found after sending goes out as a changed estimate, once the vehicle is photographed', async () => {
  const written = await writeUpByPage({ last_eight: 'SR004215', own_number: 'BG-9301' });
  const path = workOrderOf(written);
  const line_id = world.newId();
  await technician.post(`${path}/lines/new`, { ...cutFields, line_id, step: 'save' });
  const { id } = (
    await web.app.inject({ url: `/api/v1${path.replace('/field', '')}`, headers: bearer })
  ).json();
  await photoRow(installer, { workOrderId: id, lineId: toId(line_id), purpose: 'before' });
  await technician.post(`${path}/estimate`, { version_id: world.newId() });
  const form = await technician.get(`${path}/lines/new`);
  expect(form.body).toContain('This sends a changed estimate');
  const scuff = {
    line_id: hidden(form.body, 'line_id'),
    version_id: hidden(form.body, 'version_id'),
    part: 'sill_trim',
    damage: 'scuff',
    family: 'Scuff or scrape',
    measured_inches: '1',
    step: 'save',
  };
  expect((await technician.post(`${path}/lines/new`, scuff)).statusCode).toBe(409);
  await photoRow(installer, { workOrderId: id, lineId: null, purpose: 'before' });
  expect((await technician.post(`${path}/lines/new`, scuff)).statusCode).toBe(303);
  expect((await technician.post(`${path}/lines/new`, scuff)).statusCode).toBe(303);
  expect((await technician.get(path)).body).toContain('Estimate, version 2');
});

test('numbers and owner are completed on a page of their own', async () => {
  const written = await writeUpByPage({ last_eight: 'SR004214', owner_name: 'Odile Marchetti' });
  const path = workOrderOf(written);
  expect((await technician.get(`${path}/details`)).body).toContain('value="Odile Marchetti"');
  const wrong = await technician.post(`${path}/details`, { odometer_miles: 'many', po_number: '77105' });
  expect(wrong.statusCode).toBe(422);
  expect(wrong.body).toContain('id="field-odometer_miles-error"');
  expect(wrong.body).toContain('value="77105"');
  expect((await technician.post(`${path}/details`, { po_number: '77105' })).statusCode).toBe(303);
  expect((await technician.get(path)).body).toContain('77105');
});

test('the API writes up, prices and sends as the pages do', async () => {
  const call = async (method: 'GET' | 'POST' | 'PUT' | 'PATCH' | 'DELETE', url: string, payload?: object) => {
    const reply = await web.app.inject({
      method,
      url: `/api/v1${url}`,
      headers: bearer,
      ...(payload && { payload }),
    });
    return { status: reply.statusCode, body: reply.json() };
  };
  const id = world.newId();
  const vehicle = {
    id,
    account_id: installer.id,
    site_id: installer.siteId,
    vin: '1M8GDM9A1KP042788',
    own_number: 'BG-9200',
    odometer_miles: 41250,
  };
  // Written up by the page before, on the same day.
  expect(await call('POST', '/work-orders', vehicle)).toMatchObject({
    status: 409,
    body: { code: 'duplicate', field: 'another_damage' },
  });
  const written = await call('POST', '/work-orders', { ...vehicle, another_damage: true });
  expect(written).toMatchObject({ status: 201, body: { id } });
  expect(written.body.warnings[0]).toContain('Position 9 is 1');
  const lineId = world.newId();
  const line = {
    part: 'tailgate_lining',
    damage: 'cut_or_tear',
    family: 'Vinyl cut or tear',
    measured_inches: '2.2',
  };
  const added = await call('POST', `/work-orders/${id}/lines`, { id: lineId, ...line });
  expect(added).toMatchObject({
    status: 201,
    body: { estimate: { version_id: null, compared_with_limit: '165.75' }, lines: [{ rate_code: 'VC-M' }] },
  });
  const changed = await call('PUT', `/work-orders/${id}/lines/${lineId}`, {
    ...line,
    measured_inches: '1.0',
  });
  expect(changed).toMatchObject({
    status: 200,
    body: { lines: [{ rate_code: 'VC-S', measured_inches: '1' }] },
  });
  const refused = await call('POST', `/work-orders/${id}/estimate`, { id: world.newId() });
  expect(refused).toMatchObject({ status: 409, body: { code: 'photo_missing' } });
  const patched = await call('PATCH', `/work-orders/${id}`, { po_number: '77105' });
  expect(patched).toMatchObject({
    status: 200,
    body: { po_number: '77105', own_number: 'BG-9200', odometer_miles: 41250 },
  });
  expect((await call('GET', '/work-orders?text=BG-9200')).body.work_orders).toHaveLength(1);
  expect((await call('GET', '/today')).body.stops[0].account.id).toBe(installer.id);
  expect((await call('GET', '/repair-choices')).body.factors[0]).toEqual({
    code: 'new',
    name: 'New car',
    percent: '110',
  });
  expect(await call('DELETE', `/work-orders/${id}/lines/${lineId}`)).toMatchObject({
    status: 200,
    body: { lines: [] },
  });
});
