import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import bwipjs from 'bwip-js/node';
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
import { aBusiness, anAccount, type Business, openWorld, type World } from '../support/world.ts';

/** 49 CFR 565.15(c) Table VI, worked example; and one of vin-info 0.1.2's tests, whose check digit is X. */
const [first, second] = ['1G4AH59H45G118341', '1M8GDM9AXKP042788'];

let world: World;
let business: Business;
let place: string;
let site: InBrowser;

beforeAll(async () => {
  world = await openWorld();
  business = await aBusiness(world);
  const lot = await anAccount(business, { ownNumberKind: 'stock' });
  place = `/field/write-up?place=${lot.id}.${lot.siteId}`;
  const web = await openWeb(world);
  const film = await filmOf(await barcode('code39', `I${first}`));
  site = await openBrowser(web, [`--use-file-for-fake-video-capture=${film}`]);
});

/** Drawn by a generator of its own, which shares nothing with what reads it; on a larger sheet, as a label in a door. */
async function barcode(kind: 'code39' | 'code128', text: string): Promise<Buffer> {
  const drawn = await bwipjs.toBuffer({ bcid: kind, text, scale: 3, height: 18, includetext: true });
  return sharp(drawn)
    .flatten({ background: '#ffffff' })
    .resize({ width: 1100, kernel: 'nearest', fit: 'inside' })
    .extend({ top: 160, bottom: 160, left: 90, right: 90, background: '#ffffff' })
    .png()
    .toBuffer();
}

/** A film of one still picture, in the uncompressed format that Chromium takes for a camera. */
async function filmOf(picture: Buffer): Promise<string> {
  const [width, height] = [1280, 720];
  const luma = await sharp(picture)
    .resize({ width, height, fit: 'contain', background: '#ffffff' })
    .greyscale()
    .raw()
    .toBuffer();
  const chroma = Buffer.alloc((width * height) / 2, 128);
  const frame = Buffer.concat([Buffer.from('FRAME\n'), luma, chroma]);
  const head = Buffer.from(`YUV4MPEG2 W${width} H${height} F5:1 Ip A1:1 C420jpeg\n`);
  const folder = await mkdtemp(join(tmpdir(), 'grainwright-film-'));
  afterAll(() => rm(folder, { recursive: true, force: true }));
  const path = join(folder, 'label.y4m');
  await writeFile(path, Buffer.concat([head, frame, frame]));
  return path;
}

async function atTheForm(): Promise<Page> {
  const page = await site.signedIn(business.emailOf('technician'), business.password, phone);
  await page.goto(`${site.address}${place}`);
  return page;
}

const vinField = (page: Page) => page.getByLabel('VIN, or its last 8');

test('the camera reads a VIN from Code 39 behind its data identifier, and the vehicle is written up', async () => {
  const page = await atTheForm();
  await page.getByRole('button', { name: 'Scan the VIN' }).click();
  await expectText(page, `Read: ${first}. Its check digit fits.`);
  expect(await vinField(page).inputValue()).toBe(first);
  expect(await page.getByRole('button', { name: 'Scan the VIN' }).isVisible()).toBe(true);
  await expectWellMade(page, 'scan-read');
  await press(page, 'Write it up');
  await expectText(page, 'What is wrong, and where?', first);
});

test('where no camera may be used a picture of the bar code does, and another bar code is told apart', async () => {
  const page = await atTheForm();
  await page.evaluate(() => {
    Object.defineProperty(navigator.mediaDevices, 'getUserMedia', {
      value: () => Promise.reject(new DOMException('refused', 'NotAllowedError')),
    });
  });
  await page.getByRole('button', { name: 'Scan the VIN' }).click();
  await expectText(page, 'Take a picture of the bar code instead, or type the VIN.');
  await expectWellMade(page, 'scan-refused');
  const shown = page.getByLabel('Picture of the bar code');
  const give = async (buffer: Buffer) =>
    shown.setInputFiles({ name: 'label.png', mimeType: 'image/png', buffer });
  await give(await barcode('code128', '4006381333931'));
  await expectText(page, 'This bar code says “4006381333931”, which is no VIN.');
  await give(await barcode('code128', second));
  await expectText(page, `Read: ${second}. Its check digit fits.`);
  expect(await vinField(page).inputValue()).toBe(second);
  // The same with its check digit X misread as 1.
  await give(await barcode('code39', second.replace('X', '1')));
  await expectText(page, 'Position 9 is 1; for these characters it would be X.');
  expect(await vinField(page).inputValue()).toBe(second.replace('X', '1'));
});

test('what reads bar codes comes from our own address, and only its page may compile it', async () => {
  const page = await atTheForm();
  const asked: string[] = [];
  page.on('request', (request) => asked.push(request.url()));
  await page.getByRole('button', { name: 'Scan the VIN' }).click();
  await expectText(page, `Read: ${first}.`);
  expect(asked.filter((url) => !url.startsWith(`${site.address}/`))).toEqual([]);
  expect(asked.filter((url) => url.includes('/assets/'))).toEqual([
    expect.stringMatching(new RegExp(`^${site.address}/assets/zxing-reader-\\w+\\.wasm$`)),
  ]);
  const policyOf = async (path: string) =>
    (await page.request.get(`${site.address}${path}`)).headers()['content-security-policy'] ?? '';
  expect(await policyOf(place)).toContain("script-src 'self' 'wasm-unsafe-eval';");
  expect(await policyOf('/field')).toContain("script-src 'self';");
});

test('without JavaScript nothing is offered that does not work, and the VIN is typed', async () => {
  const page = await atTheForm();
  const { cookies } = await page.context().storageState();
  const browser = page.context().browser();
  const plain = await browser?.newContext({ javaScriptEnabled: false, viewport: phone });
  if (!plain) throw new Error('no browser');
  await plain.addCookies(cookies);
  const still = await plain.newPage();
  await still.goto(`${site.address}${place}`);
  expect(await still.getByText('Scan the VIN').isVisible()).toBe(false);
  expect(await vinField(still).isVisible()).toBe(true);
});
