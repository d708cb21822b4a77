import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { instant } from '@grainwright/domain';
import { drawPicture } from '@grainwright/evidence';
import { listPhotosToTake, makePhotoDerivatives } from '@grainwright/operations';
import type { Page } from 'playwright-core';
import sharp from 'sharp';
import { afterAll, beforeAll, expect, test } from 'vitest';
import {
  expectText,
  expectWellMade,
  type InBrowser,
  openBrowser,
  phone,
  press,
} from '../support/in-browser.ts';
import { openWeb } from '../support/web.ts';
import { approvedLine, startedLine, type WorkInHand, writtenUpLine } from '../support/work-in-hand.ts';
import {
  type Account,
  aBusiness,
  anAccount,
  type Business,
  must,
  openWorld,
  type World,
} from '../support/world.ts';

let world: World;
let business: Business;
let installer: Account;
let site: InBrowser;
let drawn: Buffer;
let page: Page;

beforeAll(async () => {
  world = await openWorld();
  business = await aBusiness(world);
  installer = await anAccount(business, { limit: null });
  drawn = await drawPicture({
    part: 'tailgate_lining',
    trim: 'graphite',
    damage: 'cut',
    inches: 2.2,
    stage: 'before',
    seed: 4,
    takenAtLocal: '2026-08-05T14:03:09',
    takenAtOffset: '-05:00',
  });
  const web = await openWeb(world);
  site = await openBrowser(web, [
    '--use-fake-device-for-media-stream',
    '--use-fake-ui-for-media-stream',
    `--use-file-for-fake-video-capture=${await filmOf(drawn)}`,
  ]);
  // The phone's clock is the browser's, so the service's is set to it.
  world.setClock(instant(new Date()));
  page = await site.signedIn(business.emailOf('technician'), business.password, phone);
  await page.context().grantPermissions(['camera']);
});

/** A film of one still picture, in the uncompressed format that Chromium takes for a camera. */
async function filmOf(picture: Buffer): Promise<string> {
  const [width, height] = [1280, 960];
  const still = sharp(picture).resize({ width, height, fit: 'cover' });
  const luma = await still.clone().greyscale().raw().toBuffer();
  const chroma = Buffer.alloc((width * height) / 2, 128);
  const frame = Buffer.concat([Buffer.from('FRAME\n'), luma, chroma]);
  const head = Buffer.from(`YUV4MPEG2 W${width} H${height} F10:1 Ip A1:1 C420jpeg\n`);
  const folder = await mkdtemp(join(tmpdir(), 'grainwright-film-'));
  afterAll(() => rm(folder, { recursive: true, force: true }));
  const path = join(folder, 'part.y4m');
  await writeFile(path, Buffer.concat([head, frame, frame]));
  return path;
}

const photosOf = async ({ workOrderId }: WorkInHand) =>
  must(await listPhotosToTake(world.services, business.technician, workOrderId));

async function openPhotos({ workOrderId }: WorkInHand, query = ''): Promise<void> {
  await page.goto(`${site.address}/field/work-orders/${workOrderId}/photos${query}`);
}

const button = (name: string) => page.getByRole('button', { name, exact: true });

test('the camera takes a picture, says what is wrong with it, and takes it again or keeps it with a reason', async () => {
  const work = await writtenUpLine(installer);
  await openPhotos(work);
  await button('Open the camera here').click();
  await expectText(page, 'Hold still, mind the glare.');
  await button('Take the photo').click();
  await expectText(page, 'Taken, and kept on this phone.', 'Sent.', '1 photo kept');
  expect((await photosOf(work)).warned).toEqual([]);
  // The same still film once more.
  await button('Take the photo').click();
  await expectText(page, 'This is the same picture as one already kept here', '2 photos kept');
  await expectWellMade(page, 'camera-warning');
  await page.locator('.shots').getByRole('button', { name: 'Take it again' }).first().click();
  await button('Take the photo').click();
  await expectText(page, '3 photos kept');
  const reason = page.locator('.shots').getByLabel('Keep it, because …').first();
  await reason.fill('nothing else to see on this side');
  await page.locator('.shots').getByRole('button', { name: 'Keep this photo' }).first().click();
  await expectText(page, 'Kept, because: nothing else to see on this side');
  const [, second, third] = (await photosOf(work)).photos;
  await expect
    .poll(async () => (await photosOf(work)).warned)
    .toMatchObject([
      { id: second?.id, warnings: [{ code: 'same_picture' }], retakenBy: third?.id, override: null },
      { id: third?.id, retakenBy: null, override: { reason: 'nothing else to see on this side' } },
    ]);
});

test('what was there before lies over the picture while the one after is taken', async () => {
  const work = await startedLine(installer);
  for (const { id: photoId } of (await photosOf(work)).photos)
    must(
      await makePhotoDerivatives(world.services, {
        tenantId: business.tenantId,
        photoId,
        directory: world.objects.temporaryDirectory,
      }),
    );
  const [before] = (await photosOf(work)).photos;
  await openPhotos(work, `?line_id=${work.lineId}&purpose=after`);
  // Allowed once, it opens by itself.
  await expectText(page, 'Hold still, mind the glare.');
  const ghost = page.locator('.ghost');
  await ghost.waitFor();
  expect(await ghost.getAttribute('src')).toBe(`${site.address}/photos/${before?.id}/view`);
  await expect.poll(() => ghost.evaluate((each: HTMLImageElement) => each.naturalWidth)).toBeGreaterThan(0);
  await page.getByLabel('How strong').fill('70');
  expect(await ghost.evaluate((each) => getComputedStyle(each).opacity)).toBe('0.7');
  await expectWellMade(page, 'camera-ghost');
  await page.getByLabel('Lay the before picture over it').uncheck();
  expect(await ghost.isVisible()).toBe(false);
  await button('Take the photo').click();
  await expectText(page, 'Taken, and kept on this phone.', 'Sent.');
  await button('Close the camera').click();
  expect(await button('Keep the photo').isVisible()).toBe(true);
});

test('where no camera may be used the field takes the picture, and a blurred one is asked about until it is answered', async () => {
  const work = await approvedLine(installer);
  await page.addInitScript(() => {
    if (!location.search.includes('refused')) return;
    Object.defineProperty(navigator.mediaDevices, 'getUserMedia', {
      value: () => Promise.reject(new DOMException('refused', 'NotAllowedError')),
    });
  });
  await openPhotos(work, `?line_id=${work.lineId}&purpose=ruler&refused=yes`);
  await button('Open the camera here').click();
  await expectText(page, 'No camera can be used here.');
  await expectWellMade(page, 'camera-refused');
  const buffer = await sharp(drawn).blur(8).jpeg().toBuffer();
  await page
    .getByLabel('Photo', { exact: true })
    .setInputFiles({ name: 'b.jpg', mimeType: 'image/jpeg', buffer });
  await expectText(page, 'Kept, but look again', 'This photo looks blurred.', 'Keep it, because …');
  await expectWellMade(page, 'photos-look-again');
  await page.getByLabel('Keep it, because …').fill('the ruler can be read');
  await press(page, 'Keep this photo');
  await expectText(page, 'Kept with a reason', '“the ruler can be read”');
});

test('a walk around the vehicle is recorded, kept, sent and played', async () => {
  const work = await approvedLine(installer);
  await page.goto(`${site.address}/field/work-orders/${work.workOrderId}/walk-around`);
  await expectWellMade(page, 'walk-around');
  await button('Start recording').click();
  await expectText(page, 'Recording 0:02 of 2:00');
  await expectWellMade(page, 'walk-around-recording');
  await button('Stop and keep it').click();
  await expectText(page, 'The recording is kept');
  const [recording] = (await photosOf(work)).recordings;
  expect(recording).toMatchObject({ kind: 'walk_around', namesPlace: false, hasPoster: true });
  expect(recording?.seconds).toBeGreaterThanOrEqual(2);
  const film = page.locator('.recording video');
  const parts: number[] = [];
  page.on('response', (response) => {
    if (response.url().endsWith('/film')) parts.push(response.status());
  });
  await film.evaluate((each: HTMLVideoElement) => {
    each.muted = true;
    return each.play();
  });
  await expect.poll(() => film.evaluate((each: HTMLVideoElement) => each.currentTime)).toBeGreaterThan(0.2);
  expect(parts[0]).toBe(206);
  await expectWellMade(page, 'walk-around-kept');
});
