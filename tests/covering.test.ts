import { createHash } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import { Readable } from 'node:stream';
import type { AccessLinkId, CoveringId, InvoiceId, PhotoId, RecordingId } from '@grainwright/domain';
import {
  addRecording,
  askOwner,
  coverPhoto,
  issueInvoice,
  openInvoicePdf,
  openPhoto,
  readCoverings,
  readWorkOrder,
  showRecording,
  uncoverPhoto,
  withholdRecording,
} from '@grainwright/operations';
import postgres, { type Sql } from 'postgres';
import sharp from 'sharp';
import { afterAll, beforeAll, beforeEach, expect, test } from 'vitest';
import { emptyFilm } from './isolation/recording-requests.ts';
import { linkHolder, linkMailedTo } from './support/mailed-links.ts';
import { accepted, hiddenFields, pathOf } from './support/owner-desk.ts';
import { runJobs } from './support/run-jobs.ts';
import { type Browsing, openWeb, type Web } from './support/web.ts';
import { aJpeg, finishedLine, photographed, type WorkInHand, writtenUpLine } from './support/work-in-hand.ts';
import {
  type Account,
  aBusiness,
  anAccount,
  type Business,
  must,
  openWorld,
  type World,
} from './support/world.ts';
import { sent } from './support/write-ups.ts';

/** Parts of photos that nobody but the staff may see: what every other reader gets, by whatever way they come. */

let world: World;
let web: Web;
let business: Business;
let dealer: Account;
let login: Sql;
let contact: Browsing;
let staff: Browsing;
const photoRoutes: string[] = [];

beforeAll(async () => {
  world = await openWorld();
  web = await openWeb(world, {
    onRoute: ({ method, url }) => {
      if (method === 'GET' && /\/photos\/:\w+\//.test(url)) photoRoutes.push(url);
    },
  });
  business = await aBusiness(world);
  dealer = await anAccount(business, { limit: null });
  login = postgres(world.loginUrl, { max: 1, onnotice: () => undefined });
  contact = await web.signInByPage(dealer.emailOf('approver'), business.password);
  staff = await web.signInByPage(business.emailOf('technician'), business.password);
});
beforeEach(() => world.at('2026-08-05T09:00'));
afterAll(() => login.end({ timeout: 5 }));

const face = { kind: 'face', left: 25, top: 25, width: 50, height: 50 };

async function covered(photoId: PhotoId, regions = [face], actor = business.technician) {
  const id = world.newId<CoveringId>();
  return coverPhoto(world.services, actor, { id, photoId, regions, reason: 'a bystander’s face' });
}

const sha256 = (bytes: Uint8Array) => createHash('sha256').update(bytes).digest('hex');

/** Every file of a photo as it was taken: its original and the copies that were made of it before. */
async function uncoveredFiles(photoId: PhotoId): Promise<readonly Buffer[]> {
  const original = await staff.get(`/photos/${photoId}/original`);
  const rows = await asRole(
    'grainwright_staff',
    {},
    (tx) =>
      tx<{ storage_key: string }[]>`select storage_key from photo_derivatives where photo_id = ${photoId}`,
  );
  expect(rows.length).toBe(2);
  const copies = await Promise.all(
    rows.map(async ({ storage_key: key }) => {
      return readFile(`${world.objectsFolder}/${key}`);
    }),
  );
  return [original.rawPayload, ...copies];
}

type Query<T> = (tx: postgres.TransactionSql) => Promise<T>;

/** As `withTenant` does it, behind the operations’ back. */
async function asRole<T>(role: string, more: Readonly<Record<string, string>>, query: Query<T>): Promise<T> {
  const found = await login.begin(async (tx) => {
    for (const [name, value] of Object.entries({ role, 'app.tenant_id': business.tenantId, ...more }))
      await tx`select set_config(${name}, ${value}, true)`;
    return { value: await query(tx) };
  });
  return found.value as T;
}

/** Whoever is not of the staff, with every way they have to a photo. */
async function readersOf(
  work: WorkInHand,
): Promise<readonly ((photoId: PhotoId) => Promise<readonly Reply[]>)[]> {
  const token = await web.signIn(dealer.emailOf('approver'), business.password);
  const linkId = world.newId<AccessLinkId>();
  const owner = { ownerName: 'Orrin Vasek', phone: '', email: 'orrin.vasek@example.com' };
  const asked = must(
    await askOwner(world.services, business.technician, { linkId, workOrderId: work.workOrderId, ...owner }),
  );
  const get = (url: string, headers = {}) => web.app.inject({ method: 'GET', url, headers });
  const kinds = (folder: string) => photoRoutes.filter((route) => route.startsWith(folder));
  const filled = (route: string, photoId: PhotoId) => route.replace(/:(id|photoId)/, photoId);
  return [
    (photoId) => Promise.all(kinds('/photos').map((route) => contact.get(filled(route, photoId)))),
    (photoId) => Promise.all(kinds('/api/').map((route) => get(filled(route, photoId), token))),
    (photoId) =>
      Promise.all(
        kinds('/link/').map((route) => get(filled(route.replace('/link/:token', pathOf(asked)), photoId))),
      ),
  ];
}

type Reply = Awaited<ReturnType<Browsing['get']>>;

async function isInk(bytes: Uint8Array): Promise<boolean> {
  const { data, info } = await sharp(bytes).raw().toBuffer({ resolveWithObject: true });
  const at = (Math.floor(info.height / 2) * info.width + Math.floor(info.width / 2)) * 3;
  return [...data.subarray(at, at + 3)].every((value) => Math.abs(value - 0x1b) <= 3);
}

test('from the moment that it is covered, no way leads anybody but the staff to the photo without it', async () => {
  const work = await finishedLine(dealer);
  await runJobs(world);
  const photoId = await onlyPhoto(work, 'after');
  const readers = await readersOf(work);
  for (const read of readers)
    expect((await read(photoId)).some((reply) => reply.statusCode === 200)).toBe(true);
  const secret = await uncoveredFiles(photoId);
  must(await covered(photoId));

  const before = (await Promise.all(readers.map((read) => read(photoId)))).flat();
  expect(before.length).toBeGreaterThanOrEqual(8);
  for (const reply of before) expect([403, 404, 503]).toContain(reply.statusCode);
  expect(
    before
      .filter((reply) => reply.statusCode === 503)
      .map((reply) => reply.body)
      .join(),
  ).toContain('being covered');
  await runJobs(world);
  const after = (await Promise.all(readers.map((read) => read(photoId)))).flat();
  const shown = after.filter((reply) => reply.statusCode === 200);
  // The view and the thumb on pages and by the API, and both under the owner’s link.
  expect(shown.length).toBe(6);
  for (const reply of shown) {
    expect(secret.map(sha256)).not.toContain(sha256(reply.rawPayload));
    expect(await isInk(reply.rawPayload)).toBe(true);
  }
  for (const reply of after) expect([200, 403, 404]).toContain(reply.statusCode);
  // The staff see both.
  expect(await isInk((await staff.get(`/photos/${photoId}/view`)).rawPayload)).toBe(true);
  expect(secret.map(sha256)).toContain(sha256((await staff.get(`/photos/${photoId}/uncovered`)).rawPayload));
  expect(sha256((await staff.get(`/photos/${photoId}/original`)).rawPayload)).toBe(
    sha256(secret[0] ?? Buffer.alloc(0)),
  );
});

test('the database itself keeps the place of the uncovered copies from accounts, links and owners', async () => {
  const work = await finishedLine(dealer);
  await runJobs(world);
  const photoId = await onlyPhoto(work, 'after');
  const roles = [
    ['grainwright_account', { 'app.account_id': dealer.id }],
    ['grainwright_vehicle_owner', { 'app.work_order_id': work.workOrderId }],
  ] as const;
  const keys = ([role, more]: (typeof roles)[number], table: string) =>
    asRole(role, more, (tx) => tx`select storage_key from ${tx(table)} where photo_id = ${photoId}`);
  for (const role of roles) expect((await keys(role, 'photo_derivatives')).length).toBe(2);
  must(await covered(photoId));
  for (const role of roles) {
    expect(await keys(role, 'photo_derivatives')).toEqual([]);
    expect(await keys(role, 'shown_copies')).toEqual([]);
  }
  await runJobs(world);
  for (const role of roles) {
    expect(await keys(role, 'photo_derivatives')).toEqual([]);
    const shown = await keys(role, 'shown_copies');
    expect(shown.length).toBe(2);
    for (const row of shown) expect(String(row.storage_key)).toContain('/covered/');
  }
  const reasons = asRole(
    'grainwright_account',
    { 'app.account_id': dealer.id },
    (tx) => tx`select reason from photo_coverings`,
  );
  await expect(reasons).rejects.toMatchObject({ code: '42501' });
});

test('papers have the covered copy and say since when; the answer that was given keeps its digest', async () => {
  const work = await finishedLine(dealer);
  await runJobs(world);
  const photoId = await onlyPhoto(work, 'after');
  const link = must(
    await askOwner(world.services, business.technician, {
      linkId: world.newId<AccessLinkId>(),
      workOrderId: work.workOrderId,
      ...{ ownerName: 'Orrin Vasek', phone: '212-555-0142', email: '' },
    }),
  );
  const holder = linkHolder(web);
  const form = hiddenFields(await holder.get(pathOf(link)));
  await holder.post(`${pathOf(link)}/acceptance`, { ...form, ...accepted });
  const [, view] = await uncoveredFiles(photoId);
  world.at('2026-08-06T09:00');
  must(await covered(photoId));
  await runJobs(world);

  const read = must(await readCoverings(world.services, business.technician, photoId));
  expect(read.answers).toMatchObject([{ what: 'acceptance', name: 'Orrin Vasek' }]);
  const after = must(await readWorkOrder(world.services, dealer.viewer, work.workOrderId));
  expect(after.photos.find(({ id }) => id === photoId)).toMatchObject({
    coveredOn: '2026-08-06',
    ready: true,
  });
  expect(after.acceptance?.digest).toBe(form.shown_digest);
  const page = await contact.get(`/account/work-orders/${work.workOrderId}`);
  expect(page.body).toContain('parts covered Aug 6, 2026');

  const invoiceId = world.newId<InvoiceId>();
  must(
    await issueInvoice(world.services, business.bookkeeper, { invoiceId, workOrderIds: [work.workOrderId] }),
  );
  for (const actor of [business.bookkeeper, dealer.viewer]) {
    const { body } = must(await openInvoicePdf(world.services, actor, invoiceId));
    const paper = Buffer.from(body);
    // pdfkit puts a JPEG in as it is, so the paper holds its bytes.
    const shown = (await contact.get(`/photos/${photoId}/view`)).rawPayload;
    expect(paper.includes(shown.subarray(600, 1200))).toBe(true);
    expect(paper.includes((view ?? Buffer.alloc(0)).subarray(600, 1200))).toBe(false);
  }
  const sheet = await contact.get(`/account/invoices/${invoiceId}`);
  expect(sheet.body).toContain('parts covered on Aug 6, 2026');
});

test('only the owner of the business lays open again what was covered, and says why', async () => {
  const work = await writtenUpLine(dealer);
  const photoId = await photographed(dealer, work.workOrderId, work.lineId, 'before');
  const id = world.newId<CoveringId>();
  const input = { id, photoId, regions: [face], reason: 'a license plate' };
  must(await coverPhoto(world.services, business.technician, input));
  must(await coverPhoto(world.services, business.technician, input));
  const other = await coverPhoto(world.services, business.technician, { ...input, reason: 'another' });
  expect(other).toMatchObject({ ok: false, problem: { code: 'id_reused' } });

  const less = await covered(photoId, [{ ...face, width: 10 }]);
  expect(less).toMatchObject({ ok: false, problem: { code: 'not_allowed', field: 'regions' } });
  must(await covered(photoId, [face, { ...face, kind: 'plate', left: 0, width: 10 }]));
  const away = { id: world.newId<CoveringId>(), photoId, reason: 'they agreed to be seen' };
  expect(await uncoverPhoto(world.services, business.office, away)).toMatchObject({
    ok: false,
    problem: { code: 'not_allowed' },
  });
  expect(await uncoverPhoto(world.services, business.owner, { ...away, reason: ' ' })).toMatchObject({
    ok: false,
    problem: { code: 'invalid_input', field: 'reason' },
  });
  must(await uncoverPhoto(world.services, business.owner, away));
  const { coverings } = must(await readCoverings(world.services, business.technician, photoId));
  expect(coverings.map(({ number, regions, reason }) => [number, regions.length, reason])).toEqual([
    [3, 0, 'they agreed to be seen'],
    [2, 2, 'a bystander’s face'],
    [1, 1, 'a license plate'],
  ]);
  await runJobs(world);
  const seen = must(await openPhoto(world.services, dealer.viewer, { photoId, kind: 'view' }));
  seen.stream?.destroy();
  expect(await uncoverPhoto(world.services, business.owner, { ...away, id: world.newId() })).toMatchObject({
    ok: false,
    problem: { code: 'wrong_state' },
  });
  // The database asks the same, whoever writes.
  const byOffice = asRole(
    'grainwright_staff',
    {},
    (tx) => tx`
    insert into photo_coverings (tenant_id, id, photo_id, number, regions, reason, made_by, made_at)
    values (${business.tenantId}, ${world.newId()}, ${photoId}, 4, '[]', 'x', ${business.office.personId}, now())`,
  );
  await expect(byOffice).rejects.toMatchObject({ code: '42501' });
});

test('whoever approves by a link sees the covered picture', async () => {
  const lot = await anAccount(business, { limit: null });
  const work = await writtenUpLine(lot);
  const photoId = await photographed(lot, work.workOrderId, work.lineId, 'before');
  must(await covered(photoId));
  await sent(lot, work.workOrderId);
  await runJobs(world);
  const path = await linkMailedTo(business, lot.emailOf('approver'));
  const page = await linkHolder(web).get(path);
  expect(page.body).toContain('parts covered');
  const [, src = ''] = /src="(\/link\/[^"]+\/view)"/.exec(page.body) ?? [];
  expect(await isInk((await linkHolder(web).get(src)).rawPayload)).toBe(true);
});

test('a recording is kept from the account as a whole, and only the owner shows it again', async () => {
  const work = await writtenUpLine(dealer);
  const recordingId = world.newId<RecordingId>();
  const film = { stream: Readable.from([Buffer.from(emptyFilm)]), truncated: () => false, bytesMax: 1000 };
  const about = { recordingId, workOrderId: work.workOrderId, capturedAt: null, seconds: 9, film };
  const directory = world.objects.temporaryDirectory;
  must(
    await addRecording(world.services, business.technician, { ...about, poster: await aJpeg(), directory }),
  );
  const seenBy = async (reader: Browsing) => [
    (await reader.get(`/recordings/${recordingId}/film`)).statusCode,
    (await reader.get(`/recordings/${recordingId}/poster`)).statusCode,
  ];
  expect(await seenBy(contact)).toEqual([200, 200]);
  const turn = { id: world.newId<CoveringId>(), recordingId, reason: 'children in the driveway' };
  must(await withholdRecording(world.services, business.technician, turn));
  must(await withholdRecording(world.services, business.technician, turn));
  expect(await seenBy(contact)).toEqual([404, 404]);
  expect(await seenBy(staff)).toEqual([200, 200]);
  const view = must(await readWorkOrder(world.services, dealer.viewer, work.workOrderId));
  expect(view.recordings).toEqual([]);
  const page = await staff.get(`/office/recordings/${recordingId}/withholding`);
  expect(page.body).toContain('The account does not see it');
  const again = { ...turn, id: world.newId<CoveringId>(), reason: 'they agreed' };
  expect(await showRecording(world.services, business.office, again)).toMatchObject({
    ok: false,
    problem: { code: 'not_allowed' },
  });
  must(await showRecording(world.services, business.owner, again));
  expect(await seenBy(contact)).toEqual([200, 200]);
});

async function onlyPhoto({ workOrderId }: WorkInHand, purpose: string): Promise<PhotoId> {
  const { photos } = must(await readWorkOrder(world.services, business.technician, workOrderId));
  const found = photos.find((photo) => photo.purpose === purpose);
  if (found === undefined) throw new Error(`no ${purpose} photo`);
  return found.id;
}
