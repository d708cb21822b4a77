import { instant, type PhotoId, type PhotoOverrideId } from '@grainwright/domain';
import {
  type AddPhotoInput,
  addPhoto,
  finishWork,
  keepInSpite,
  listPhotosToTake,
  readWorkOrder,
} from '@grainwright/operations';
import sharp from 'sharp';
import { beforeAll, expect, test } from 'vitest';
import { multipart } from './support/multipart.ts';
import { type Browsing, openWeb, type Web } from './support/web.ts';
import {
  aJpeg,
  photographed,
  photoInput,
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

let world: World;
let business: Business;
let installer: Account;
let web: Web;
let technician: Browsing;
let token: { authorization: string };

beforeAll(async () => {
  world = await openWorld();
  business = await aBusiness(world);
  installer = await anAccount(business, { limit: null });
  web = await openWeb(world);
  technician = await web.signInByPage(business.emailOf('technician'), business.password);
  token = await web.signIn(business.emailOf('technician'), business.password);
});

const blurred = async () =>
  sharp(await aJpeg())
    .blur(9)
    .jpeg()
    .toBuffer();

async function add(bytes: Buffer, work: WorkInHand, change: Partial<AddPhotoInput> = {}) {
  const where = { ...work, purpose: 'before' };
  return addPhoto(world.services, business.technician, { ...photoInput(installer, bytes, where), ...change });
}

const warnedOf = async ({ workOrderId }: WorkInHand) =>
  must(await listPhotosToTake(world.services, business.technician, workOrderId)).warned;

const keep = (photoId: PhotoId, reason: string, overrideId = world.newId<PhotoOverrideId>()) =>
  keepInSpite(world.services, business.technician, { overrideId, photoId, reason });

test('what is said of a photo is told at once and stays with it; the same photo again is told the same', async () => {
  const work = await writtenUpLine(installer);
  const bytes = await blurred();
  const photoId = world.newId<PhotoId>();
  const first = must(await add(bytes, work, { photoId }));
  expect(first.warnings).toEqual([{ code: 'blurred', sentence: expect.stringContaining('looks blurred') }]);
  expect(must(await add(bytes, work, { photoId })).warnings).toEqual(first.warnings);
  expect(await warnedOf(work)).toEqual([
    {
      id: photoId,
      lineId: work.lineId,
      purpose: 'before',
      warnings: first.warnings,
      retakenBy: null,
      override: null,
    },
  ]);
});

test('a picture taken for another vehicle is told, with its work order', async () => {
  const first = await writtenUpLine(installer);
  const second = await writtenUpLine(installer);
  const bytes = await aJpeg();
  must(await add(bytes, first));
  const { number } = must(await readWorkOrder(world.services, business.technician, first.workOrderId));
  const again = must(await add(bytes, second));
  expect(again.warnings).toMatchObject([
    { code: 'same_picture', sentence: expect.stringContaining(`with WO-${number} as “before”`) },
  ]);
  const savedAgain = await sharp(bytes).jpeg({ quality: 60 }).toBuffer();
  expect(must(await add(savedAgain, first)).warnings).toMatchObject([{ code: 'like_another' }]);
});

test('a time before the work order or to come is told by the phone’s clock where no camera says one', async () => {
  const work = await writtenUpLine(installer);
  const told = async (at: string) =>
    must(await add(await aJpeg(), work, { capturedAt: instant(at) })).warnings.map(({ code }) => code);
  expect(await told('2026-08-05T14:00:00Z')).toEqual([]);
  expect(await told('2026-08-04T14:00:00Z')).toEqual(['before_work_order']);
  expect(await told('2026-08-05T18:00:00Z')).toEqual(['in_future']);
});

test('a warned photo is kept with a reason, once under its id, by the API and by the page', async () => {
  const work = await writtenUpLine(installer);
  const { photoId } = must(await add(await blurred(), work));
  const url = `/api/v1/photos/${photoId}/override`;
  const payload = { override_id: world.newId(), reason: 'the edge is what counts' };
  const post = (body: object) => web.app.inject({ method: 'POST', url, headers: token, payload: body });
  expect([(await post(payload)).statusCode, (await post(payload)).statusCode]).toEqual([200, 200]);
  const other = await post({ ...payload, reason: 'something else' });
  expect([other.statusCode, other.json().code]).toEqual([409, 'id_reused']);
  expect((await post({ override_id: world.newId(), reason: ' ' })).json().field).toBe('reason');
  const [warned] = await warnedOf(work);
  expect(warned?.override).toMatchObject({ reason: 'the edge is what counts' });
  const office = await web.signInByPage(business.emailOf('owner'), business.password);
  expect((await office.get(`/office/work-orders/${work.workOrderId}`)).body).toContain(
    'the edge is what counts',
  );
  const next = must(await add(await blurred(), work));
  const page = `/field/work-orders/${work.workOrderId}/photos`;
  expect((await technician.get(page)).body).toContain('Look again');
  await technician.post(`${page}/${next.photoId}/keep`, {
    override_id: world.newId(),
    reason: 'dark headliner',
  });
  expect((await technician.get(page)).body).toContain('“dark headliner”');
});

test('a reason comes with the photo, too; one that nothing is said against may have one', async () => {
  const work = await writtenUpLine(installer);
  const { payload, headers } = multipart(
    {
      photo_id: world.newId(),
      purpose: 'before',
      line_id: work.lineId,
      captured_at: '',
      retake_of: '',
      override_reason: 'seen from afar',
    },
    { name: 'photo.jpg', bytes: await blurred() },
  );
  const url = `/api/v1/work-orders/${work.workOrderId}/photos`;
  const sent = await web.app.inject({ method: 'POST', url, headers: { ...headers, ...token }, payload });
  expect(sent.statusCode).toBe(201);
  expect((await warnedOf(work))[0]?.override?.reason).toBe('seen from afar');
  const fine = must(await add(await aJpeg(), work));
  expect(must(await keep(fine.photoId, 'the phone warned of it')).reason).toBe('the phone warned of it');
});

const finish = (work: WorkInHand, photoReasons: Parameters<typeof finishWork>[2]['photoReasons'] = []) =>
  finishWork(world.services, business.technician, {
    workOrderId: work.workOrderId,
    work: [],
    overrides: [],
    photoReasons,
  });

test('work is finished once every warning is answered: taken again, or kept with a reason', async () => {
  const work = await startedLine(installer);
  await photographed(installer, work.workOrderId, work.lineId, 'after_heat');
  const first = must(await add(await blurred(), work, { purpose: 'after' }));
  const second = must(await add(await blurred(), work, { purpose: 'ruler' }));
  const refused = await finish(work);
  expect(refused).toMatchObject({ ok: false, problem: { code: 'contradiction' } });
  must(await add(await aJpeg(), work, { purpose: 'after', retakeOf: first.photoId }));
  expect((await finish(work)).ok).toBe(false);
  const overrideId = world.newId<PhotoOverrideId>();
  must(await finish(work, [{ overrideId, photoId: second.photoId, reason: 'the marks can be read' }]));
  expect(await warnedOf(work)).toMatchObject([
    { id: first.photoId, retakenBy: expect.any(String), override: null },
    { id: second.photoId, retakenBy: null, override: { reason: 'the marks can be read' } },
  ]);
});

test('the page that finishes work asks for each open warning beside its picture', async () => {
  const work = await startedLine(installer);
  await photographed(installer, work.workOrderId, work.lineId, 'after_heat');
  const { photoId } = must(await add(await blurred(), work, { purpose: 'after' }));
  const path = `/field/work-orders/${work.workOrderId}/finish`;
  const page = await technician.get(path);
  expect(page.body).toContain('Look at these photos again');
  expect(page.body).toContain(`/photos?retake=${photoId}`);
  const id = new RegExp(`name="keep-id-${photoId}" value="([^"]+)"`).exec(page.body)?.[1] ?? '';
  const said = {
    described: 'yes',
    line: work.lineId,
    [`methods-${work.lineId}`]: 'cold_grain',
    [`layers-${work.lineId}`]: '',
  };
  const open = await technician.post(path, said);
  expect([open.statusCode, open.body.includes(`href="#field-keep-${photoId}"`)]).toEqual([409, true]);
  const done = await technician.post(path, {
    ...said,
    [`keep-id-${photoId}`]: id,
    [`keep-${photoId}`]: 'soft light',
  });
  expect([done.statusCode, done.headers.location]).toEqual([
    303,
    `/field/work-orders/${work.workOrderId}/acceptance`,
  ]);
});

test('an account reads nothing of what was said against photos', async () => {
  const work = await writtenUpLine(installer);
  must(await add(await blurred(), work));
  const approver = await web.signIn(installer.emailOf('approver'), business.password);
  const url = `/api/v1/work-orders/${work.workOrderId}`;
  const seen = (await web.app.inject({ method: 'GET', url, headers: approver })).json();
  expect([seen.photos.length, seen.photo_warnings]).toEqual([1, []]);
});

const photosPage = ({ workOrderId }: WorkInHand) => `/field/work-orders/${workOrderId}/photos`;

test('a photo that may not do is answered where it is told, and nothing leads on until it is', async () => {
  const work = await startedLine(installer);
  await photographed(installer, work.workOrderId, work.lineId, 'after_heat');
  const { photoId } = must(await add(await blurred(), work, { purpose: 'after' }));
  const page = (await technician.get(`${photosPage(work)}?kept=${photoId}`)).body;
  const alert = /role="alert">([\s\S]*?)<\/form>/.exec(page)?.[1] ?? '';
  expect(alert).toContain('Kept, but look again');
  expect(alert).toContain(`photos?retake=${photoId}`);
  expect(alert).toContain('Keep it, because …');
  expect(page.split('Keep it, because …')).toHaveLength(2);
  expect(page).not.toContain('Go on to finishing');
  expect(page).not.toContain('Every photo that this account asks for is here');
  // What the page’s own button sends is the picture taken again, and it says so.
  expect(page).toContain(`name="retake_of" value="${photoId}"`);
  expect(page).toContain('Keep the new photo');
  expect(page).not.toContain('type="radio"');
  // Without it being just taken, it is asked about all the same, and again nothing leads on.
  const later = (await technician.get(photosPage(work))).body;
  expect(later).toContain(`name="retake_of" value="${photoId}"`);
  expect(later).not.toContain('Go on to finishing');
  must(await keep(photoId, 'the grain can be seen'));
  expect((await technician.get(photosPage(work))).body).toContain('Go on to finishing');
});

test('of a picture that was taken again, the new one is named the second take and stands before the old one', async () => {
  const work = await writtenUpLine(installer);
  const first = must(await add(await blurred(), work)).photoId;
  const second = must(await add(await aJpeg(), work, { retakeOf: first })).photoId;
  const later = must(await add(await aJpeg(), work, { purpose: 'ruler' })).photoId;
  const { body } = await technician.get(photosPage(work));
  const captionOf = (id: PhotoId) =>
    body
      .slice(body.indexOf(`/photos/${id}/thumb`))
      .match(/<figcaption>([^<]*)</)?.[1]
      ?.trim();
  expect([captionOf(first), captionOf(second)]).toEqual([
    'before, replaced by the second take',
    'before, the second take',
  ]);
  const places = [later, second, first].map((id) => body.indexOf(`/photos/${id}/thumb`));
  expect(places.toSorted((one, other) => one - other)).toEqual(places);
});

test('on the page that finishes, the reason is not called optional', async () => {
  const work = await startedLine(installer);
  await photographed(installer, work.workOrderId, work.lineId, 'after_heat');
  must(await add(await blurred(), work, { purpose: 'after' }));
  const { body } = await technician.get(`/field/work-orders/${work.workOrderId}/finish`);
  const label = /<label[^>]*>Keep it, because …([\s\S]*?)<\/label>/.exec(body)?.[1];
  expect(label).toBe('');
  expect(body).toContain('Needed, unless you take it again.');
});

test('office and payer see the second take as the result, and the first apart, with what was wrong with it', async () => {
  const work = await startedLine(installer);
  await photographed(installer, work.workOrderId, work.lineId, 'before');
  const first = must(await add(await blurred(), work, { purpose: 'after' }));
  const second = must(await add(await aJpeg(), work, { purpose: 'after', retakeOf: first.photoId }));
  // Taken later for another reason, and replaced as well: what counts is what stands.
  const third = must(await add(await blurred(), work, { purpose: 'after' }));
  must(await add(await aJpeg(), work, { purpose: 'progress', retakeOf: third.photoId }));
  const approver = await web.signInByPage(installer.emailOf('approver'), business.password);
  const office = await web.signInByPage(business.emailOf('office'), business.password);
  for (const [who, area] of [
    [approver, 'account'],
    [office, 'office'],
  ] as const) {
    const { body } = await who.get(`/${area}/work-orders/${work.workOrderId}`);
    const [pair = '', apart = ''] = [
      /class="before-after"[\s\S]*?<\/div>/.exec(body)?.[0],
      body.split('<h4>')[1],
    ];
    expect(pair).toContain(`/photos/${second.photoId}/view`);
    expect(pair).not.toContain(first.photoId);
    expect(apart).toContain('Taken again');
    for (const { photoId } of [first, third]) expect(apart).toContain(`/photos/${photoId}/view`);
    expect(apart).toContain('after, taken again, since it was blurred');
  }
  const token = await web.signIn(installer.emailOf('viewer'), business.password);
  const url = `/api/v1/work-orders/${work.workOrderId}`;
  const { photos } = (await web.app.inject({ method: 'GET', url, headers: token })).json();
  expect(photos.find(({ id }: { id: PhotoId }) => id === first.photoId).taken_again).toEqual({
    by: second.photoId,
    noticed: ['blurred'],
  });
});

test('whoever signs sees which picture was taken again, and why, beside the vehicle and under a link', async () => {
  const work = await startedLine(installer);
  await photographed(installer, work.workOrderId, work.lineId, 'after_heat');
  const first = must(await add(await blurred(), work, { purpose: 'after' }));
  must(await add(await aJpeg(), work, { purpose: 'after', retakeOf: first.photoId }));
  must(await finish(work));
  const shown = await technician.get(`/field/work-orders/${work.workOrderId}/acceptance`);
  expect(shown.body).toContain('after, taken again');
});
