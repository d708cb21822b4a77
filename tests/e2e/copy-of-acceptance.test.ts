import type { Page } from 'playwright-core';
import { beforeAll, expect, test } from 'vitest';
import {
  desk,
  expectText,
  expectWellMade,
  follow,
  type InBrowser,
  openBrowser,
  phone,
  press,
} from '../support/in-browser.ts';
import { runJobs } from '../support/run-jobs.ts';
import { openWeb } from '../support/web.ts';
import { finishedLine } from '../support/work-in-hand.ts';
import {
  type Account,
  aBusiness,
  anAccount,
  type Business,
  openWorld,
  type World,
} from '../support/world.ts';

/**
 * The owner looks at before and after, signs on the technician's phone and gets a copy. The divider is a range, so what
 * keys do is that role's (WAI-ARIA Authoring Practices, slider pattern).
 */

let world: World;
let business: Business;
let glass: Account;
let inBrowser: InBrowser;

beforeAll(async () => {
  world = await openWorld();
  business = await aBusiness(world);
  glass = await anAccount(business, { limit: null });
  inBrowser = await openBrowser(await openWeb(world));
});

test('before and after by keys and pointer, a signature, and a copy that is read again', {
  timeout: 240_000,
}, async () => {
  const { workOrderId } = await finishedLine(glass);
  await runJobs(world);
  const technician = await inBrowser.signedIn(business.emailOf('technician'), business.password, phone);
  await technician.goto(`${inBrowser.address}/field/work-orders/${workOrderId}/acceptance`);
  await moveByKeys(technician);
  await moveByPointer(technician);
  await expectText(technician, 'sign it on a screen instead of on paper', 'ask for a copy on paper');
  await expectWellMade(technician, 'copy-1-acceptance');
  await technician.getByLabel('Accepted', { exact: true }).check();
  await technician.getByLabel('Your name', { exact: true }).fill('Elowen Tarrish');
  await technician.getByLabel('Your e-mail address').fill('elowen.tarrish@example.com');
  await drawSignature(technician);
  await technician.getByRole('checkbox', { name: /I give this answer myself/ }).check();
  await press(technician, 'Give my answer');
  await expectText(technician, 'Thank you', 'Where shall the copy go?');
  expect(await technician.getByLabel('E-mail address').inputValue()).toBe('elowen.tarrish@example.com');
  await expectWellMade(technician, 'copy-2-where');
  await press(technician, 'Give the copy');
  await expectText(technician, 'By e-mail to elowen.tarrish@example.com', 'it can be read again through');
  await technician.getByLabel('By a link').check();
  await press(technician, 'Give another copy');
  await expectText(technician, 'The link to your copy');
  await expectWellMade(technician, 'copy-3-link');
  const link = await technician.getByLabel('The link. It is shown only now').inputValue();
  await follow(technician, 'Back to what was signed');

  const owner = await inBrowser.visiting(phone);
  await owner.goto(`${inBrowser.address}${new URL(link).pathname}`);
  await expectText(owner, 'Your copy of what was signed', 'Elowen Tarrish, vehicle’s owner');
  const signature = owner.getByRole('img', { name: 'Signature of Elowen Tarrish' });
  await expect.poll(() => signature.evaluate((image: HTMLImageElement) => image.naturalWidth)).toBe(640);
  await owner.getByRole('slider').first().waitFor();
  await bothAreThere(owner);
  await expectWellMade(owner, 'copy-4-read-again');

  const account = await inBrowser.signedIn(glass.emailOf('approver'), business.password, desk);
  await account.goto(`${inBrowser.address}/account/work-orders/${workOrderId}`);
  await moveByKeys(account);
  await expectWellMade(account, 'copy-5-portal');
  await sideBySide(account);

  const office = await inBrowser.signedIn(business.emailOf('office'), business.password, desk);
  await office.goto(`${inBrowser.address}/office/work-orders/${workOrderId}`);
  await office.getByRole('slider').first().waitFor();
  await expectWellMade(office, 'copy-6-office');
  await follow(office, 'What is on record of each answer, and copies');
  await expectText(office, 'Signing on a screen, version 1', 'By a link, shown');
  await expectWellMade(office, 'copy-7-record');
});

async function bothAreThere(page: Page): Promise<void> {
  const widths = () =>
    page
      .locator('.before-after img')
      .evaluateAll((shown) => shown.map((each) => each instanceof HTMLImageElement && each.naturalWidth > 0));
  await expect.poll(widths).toEqual([true, true]);
}

/** How much of the picture before is shown, in per cent, as it is drawn. */
async function shownBefore(page: Page): Promise<number> {
  const clip = await page
    .locator('.before-after figure:first-child > :is(img, a)')
    .first()
    .evaluate((shown) => getComputedStyle(shown).clipPath);
  const right = /inset\(0(?:px|%)? (?:calc\(100% - )?([\d.]+)%/.exec(clip)?.[1];
  return clip.includes('calc') ? Number(right) : 100 - Number(right);
}

async function moveByKeys(page: Page): Promise<void> {
  const range = page.getByRole('slider', { name: /^Divider between “/ }).first();
  await range.focus();
  expect(await shownBefore(page)).toBe(50);
  for (const key of ['ArrowRight', 'ArrowRight', 'ArrowLeft']) await range.press(key);
  expect(await shownBefore(page)).toBe(51);
  expect(await range.getAttribute('aria-valuetext')).toBe('51 % before, 49 % after');
  await range.press('End');
  expect(await shownBefore(page)).toBe(100);
  await range.press('Home');
  expect(await shownBefore(page)).toBe(0);
}

async function moveByPointer(page: Page): Promise<void> {
  const frame = page.locator('.divider').first();
  await frame.scrollIntoViewIfNeeded();
  const box = await frame.boundingBox();
  if (box === null) throw new Error('there is no divider');
  await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
  await page.mouse.down();
  await page.mouse.move(box.x + box.width * 0.8, box.y + box.height / 2, { steps: 4 });
  await page.mouse.up();
  expect(await shownBefore(page)).toBe(80);
  // Let go, it stays.
  await page.mouse.move(box.x + box.width * 0.2, box.y + box.height / 2);
  expect(await shownBefore(page)).toBe(80);
}

async function sideBySide(page: Page): Promise<void> {
  const pictures = page.locator('.before-after img');
  const left = async (place: number) => (await pictures.nth(place).boundingBox())?.x ?? 0;
  expect(await left(0)).toBe(await left(1));
  await page.getByRole('button', { name: 'Side by side' }).first().click();
  expect(await left(1)).toBeGreaterThan(await left(0));
  const sizes = await pictures.evaluateAll((shown) => shown.slice(0, 2).map((each) => each.clientHeight));
  expect(sizes[0]).toBe(sizes[1]);
}

async function drawSignature(page: Page): Promise<void> {
  const pad = page.locator('canvas[data-signature]');
  await pad.scrollIntoViewIfNeeded();
  const box = await pad.boundingBox();
  if (box === null) throw new Error('there is nowhere to sign');
  await page.mouse.move(box.x + 20, box.y + 40);
  await page.mouse.down();
  await page.mouse.move(box.x + 90, box.y + 70, { steps: 6 });
  await page.mouse.move(box.x + 160, box.y + 30, { steps: 6 });
  await page.mouse.up();
}
