import exifr from 'exifr';
import { beforeAll, expect, test } from 'vitest';
import { acceptedWithPlace, unpacked } from './support/evidence-desk.ts';
import { runJobs } from './support/run-jobs.ts';
import { openWeb, type Web } from './support/web.ts';
import { asAdministrator, type WorkInHand } from './support/work-in-hand.ts';
import { type Account, aBusiness, anAccount, type Business, openWorld, type World } from './support/world.ts';

/** What a camera wrote (by piexif-ts, 40° 26′ 46″ N, 79° 58′ 56″ W): the staff read it in words, the account nowhere. */

/** Everything that a camera writes; the profile of the colors belongs to the picture. */
const written = { tiff: true, exif: true, gps: true, xmp: true, iptc: true, icc: false };

let world: World;
let business: Business;
let installer: Account;
let web: Web;
let work: WorkInHand;
let photoId: string;

beforeAll(async () => {
  world = await openWorld();
  web = await openWeb(world);
  business = await aBusiness(world);
  installer = await anAccount(business, { limit: null });
  work = await acceptedWithPlace(installer);
  await runJobs(world);
  const [photo] = await asAdministrator(
    world,
    (sql) => sql<{ id: string }[]>`select id from photos
      where work_order_id = ${work.workOrderId} and purpose = 'after'`,
  );
  photoId = photo?.id ?? '';
});

test('the office reads camera, moment, size and position of a photo in words', async () => {
  const office = await web.signInByPage(business.emailOf('office'), business.password);
  const order = await office.get(`/office/work-orders/${work.workOrderId}`);
  expect(order.body).toContain(`/office/photos/${photoId}/covering`);
  const { body, statusCode } = await office.get(`/office/photos/${photoId}/covering`);
  expect(statusCode).toBe(200);
  for (const words of [
    'Example Cameras Pocket 9',
    'Aug 5, 2026, 9:41 AM, by the camera’s clock',
    '640 × 480 pixels',
    '40.44611° N, 79.98222° W',
  ])
    expect(body.replaceAll('\u202f', ' ')).toContain(words);
});

test('nothing that the account opens or downloads says any of it', async () => {
  const contact = await web.signInByPage(installer.emailOf('viewer'), business.password);
  const token = await web.signIn(installer.emailOf('viewer'), business.password);
  const api = (url: string) => web.app.inject({ method: 'GET', url: `/api/v1${url}`, headers: token });
  const area = `/account/work-orders/${work.workOrderId}`;
  const archive = (await contact.get(`${area}/evidence.zip`)).rawPayload;
  const answers = [
    (await contact.get(area)).rawPayload,
    (await contact.get(`${area}/trail`)).rawPayload,
    (await contact.get(`${area}/evidence.pdf`)).rawPayload,
    archive,
    (await contact.get(`/photos/${photoId}/view`)).rawPayload,
    (await contact.get(`/photos/${photoId}/thumb`)).rawPayload,
    (await api(`/work-orders/${work.workOrderId}`)).rawPayload,
  ];
  for (const bytes of answers) {
    expect(bytes.length).toBeGreaterThan(500);
    for (const trace of ['Pocket 9', 'Example Cameras', '40.44', '79.98', '2026:08:05'])
      expect([trace, bytes.includes(trace)]).toEqual([trace, false]);
  }
  for (const [name, bytes] of Object.entries(unpacked(archive)))
    if (name.startsWith('photos/'))
      expect([name, await exifr.parse(Buffer.from(bytes), written)]).toEqual([name, undefined]);
  for (const path of [`/office/photos/${photoId}/covering`, `/photos/${photoId}/original`])
    expect([403, 404]).toContain((await contact.get(path)).statusCode);
  expect([403, 404]).toContain((await api(`/photos/${photoId}`)).statusCode);
});
