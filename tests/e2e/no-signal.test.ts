import { createHash } from 'node:crypto';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { StandingApprovalId } from '@grainwright/domain';
import {
  listWorkOrders,
  readWorkOrder,
  setStandingApproval,
  voidWorkOrder,
  type WorkOrderView,
} from '@grainwright/operations';
import type { BrowserContext, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, expect, test } from 'vitest';
import { launchPhone } from '../support/browser.ts';
import { type CutLine, cutLine } from '../support/cut-line.ts';
import { desk, expectText, expectWellMade, phone } from '../support/in-browser.ts';
import { killPhone } from '../support/kill-phone.ts';
import { openWeb } from '../support/web.ts';
import {
  type Account,
  aBusiness,
  anAccount,
  type Business,
  must,
  openWorld,
  type World,
} from '../support/world.ts';
import { tailgatePhoto } from './pictures.ts';

/**
 * The cut in the tailgate lining again, beside a vehicle where there is no signal: written up, photographed, started,
 * finished and accepted on the phone alone, which is ended in between, as phones do.
 */

let world: World;
let business: Business;
let glass: Account;
let line: CutLine;
let folder: string;
let context: BrowserContext;
let page: Page;

beforeAll(async () => {
  world = await openWorld();
  business = await aBusiness(world, { firstWorkOrderNumber: 1004 });
  glass = await anAccount(business, { ownNumberKind: 'job', ownNumberRequired: true });
  world.at('2026-08-05T10:00');
  must(
    await setStandingApproval(world.services, business.office, {
      id: world.newId<StandingApprovalId>(),
      accountId: glass.id,
      perVehicle: '350.00',
      perVisit: null,
      perMonth: null,
      validFrom: '2026-08-01',
      validTo: null,
      text: 'agreed by phone',
    }),
  );
  const web = await openWeb(world);
  line = await cutLine(await web.listen());
  folder = await mkdtemp(join(tmpdir(), 'grainwright-phone-'));
  await open();
  await signIn('technician');
});

afterEach(async () => {
  await line.mend();
});
afterAll(async () => {
  await context.close();
  await rm(folder, { recursive: true, force: true });
});

/** The phone’s clock stands where the service’s does. */
async function open(): Promise<void> {
  context = await launchPhone(folder, phone);
  await context.clock.setFixedTime(new Date('2026-08-05T15:00:00Z'));
  page = context.pages()[0] ?? (await context.newPage());
  page.setDefaultTimeout(20_000);
}

async function signIn(who: string): Promise<void> {
  await page.goto(`${line.address}/sign-in`);
  await page.getByLabel('E-mail').fill(business.emailOf(who));
  await page.getByLabel('Password').fill(business.password);
  await page.getByRole('button', { name: 'Sign in' }).press('Enter');
  await page.getByRole('button', { name: 'Sign out' }).waitFor();
  await page.goto(`${line.address}/field`);
  await readyForNoSignal();
}

/** The app is there and the day was taken along. */
async function readyForNoSignal(): Promise<void> {
  await page.waitForFunction(async () => {
    const registration = await navigator.serviceWorker.ready;
    if (registration.active?.state !== 'activated') return false;
    const found = (await indexedDB.databases()).find(({ name }) => name?.startsWith('grainwright-phone-'));
    if (found?.name === undefined) return false;
    const name = found.name;
    return new Promise<boolean>((resolve) => {
      const opening = indexedDB.open(name);
      opening.onsuccess = () => {
        const asked = opening.result.transaction('things').objectStore('things').count('snapshot');
        asked.onsuccess = () => {
          opening.result.close();
          resolve(asked.result === 1);
        };
      };
    });
  });
}

test('a whole visit without signal is kept through the end of the app and arrives exactly once', {
  timeout: 240_000,
}, async () => {
  await line.cut();
  await page.getByRole('link', { name: 'Write up a vehicle' }).click();
  await writeUp('0VEEA2C45SK000104', 'BG-9107');
  await addLine('Cut or tear', /^Vinyl cut or tear/, '2.2');
  const shots = [await takePhoto('before', 1)];
  await page.getByRole('link', { name: 'Back to the work order' }).first().click();
  const address = new URL(page.url()).pathname;
  await expectText(
    page,
    'Number comes when sent',
    'No signal: kept on this phone',
    'up to $350.00 a vehicle',
  );
  await expectWellMade(page, 'no-signal-1');

  await Promise.all([context.waitForEvent('close'), killPhone(folder)]);
  await open();
  await page.goto(`${line.address}${address}`);
  await expectText(page, '2025 Ostra Vela', 'Not sent yet');
  await page.getByRole('button', { name: 'Go on: agreed beforehand' }).click();
  await page.getByRole('link', { name: 'Start: read the cautions' }).click();
  await expectText(page, 'Before you start');
  for (const box of await page.locator('#start input[type=checkbox]').all()) await box.check();
  await page.getByRole('button', { name: 'Start work' }).click();
  await expectText(page, 'in work');
  shots.push(await takeAnother('After heat', 2), await takeAnother('After', 3));
  await page.goto(`${line.address}${address}/finish`);
  await page.getByLabel('Layers put on').fill('3');
  await page.getByRole('button', { name: 'Finish work' }).click();
  await accept();
  await page.goto(`${line.address}/field/phone/waiting`);
  await expectText(page, '3 photos and 6 other things', 'Acceptance');
  await expectWellMade(page, 'no-signal-2');

  // The session has ended meanwhile, so the same person signs in again.
  await context.clearCookies();
  await line.mend();
  await page.getByRole('button', { name: 'Send now' }).click();
  await expectText(page, 'Sign in again to send');
  // The line breaks off in the middle of a photo; the next try goes on from there.
  line.breakAfter(200_000);
  await signIn('technician');
  await page.goto(`${line.address}/field/phone/waiting`);
  // Two windows send at the same time.
  const other = await context.newPage();
  await other.goto(`${line.address}/field/phone/waiting`);
  await Promise.all([page, other].map((each) => each.getByRole('button', { name: 'Send now' }).click()));
  await expectText(page, 'Nothing waits');
  await other.close();
  const [view] = await workOrders();
  expect(view).toMatchObject({ state: 'accepted', number: 1004n });
  expect(view?.lines).toHaveLength(1);
  expect(view?.photos.map(({ sha256 }) => sha256).toSorted()).toEqual(shots.toSorted());
  expect(view?.acceptance).toMatchObject({
    outcome: 'accepted',
    signerName: 'Elowen Tarrish',
    method: 'drawn',
  });
  await page.goto(`${line.address}${address}`);
  await expectText(page, 'WO-1004', '$');
});

test('what the office decided meanwhile stands beside what the phone did, and a person chooses', {
  timeout: 120_000,
}, async () => {
  await page.goto(`${line.address}/field/write-up`);
  // The service’s own page is open and filled in when the signal goes: what is sent then is kept as well.
  await writeUp('SK000105', 'BG-9108', () => line.cut());
  await addLine('Cut or tear', /^Vinyl cut or tear/, '1.4');
  await takePhoto('before', 11);
  const address = new URL(page.url()).pathname.replace(/\/photos$/, '');
  await page.goto(`${line.address}${address}`);
  await page.getByRole('button', { name: 'Go on: agreed beforehand' }).click();
  await page.getByRole('link', { name: 'Start: read the cautions' }).waitFor();
  // What the phone can’t know: the write-up comes through, and the office finds that the car is not theirs to do.
  line.breakOn('/estimate ');
  await line.mend();
  await page.goto(`${line.address}/field/phone/waiting`);
  await page.getByRole('button', { name: 'Send now' }).click();
  const isThere = async () => (await workOrders()).find(({ number }) => number === 1005n);
  await expect.poll(async () => (await isThere())?.photos.length, { timeout: 20_000 }).toBe(1);
  const view = await isThere();
  const input = {
    workOrderId: first(view).id,
    reason: 'other' as const,
    note: 'Done by another shop',
    duplicateOfId: null,
  };
  must(await voidWorkOrder(world.services, business.office, input));
  line.breakOn(null);
  await page.getByRole('button', { name: 'Send now' }).click();
  await expectText(page, 'Estimate: not taken', 'On this phone', 'In the office now', 'Done by another shop');
  await expectWellMade(page, 'no-signal-4');
  await page.setViewportSize(desk);
  await expectWellMade(page, 'no-signal-5');
  await page.setViewportSize(phone);
  await page.getByRole('button', { name: 'Do not send it; keep it as a note' }).click();
  await expectText(page, 'Nothing waits', 'Not sent, kept as notes');
  expect((await workOrders())[0]).toMatchObject({ state: 'void' });
});

test('signing out keeps what is unsent for the same person, and nobody else sends it', {
  timeout: 120_000,
}, async () => {
  line.breakOn('/api/v1/work-orders');
  await line.cut();
  await page.goto(`${line.address}/field/write-up`);
  await writeUp('SK000106', 'BG-9109');
  await line.mend();
  await page.goto(`${line.address}/field`);
  await expectText(page, '1 thing');
  let asked = '';
  page.once('dialog', (dialog) => {
    asked = dialog.message();
    return dialog.accept();
  });
  await page.getByRole('button', { name: 'Sign out' }).click();
  await page.getByLabel('Password').waitFor();
  expect(asked).toContain('1 thing not sent yet. They stay on this phone for you');
  const before = (await workOrders()).length;
  line.breakOn(null);
  await signIn('office');
  await page.goto(`${line.address}/field/phone/waiting`);
  await page.getByRole('button', { name: 'Send now' }).click();
  await expectText(page, 'Nothing waits');
  expect(await workOrders()).toHaveLength(before);
  await page.goto(`${line.address}/field`);
  await page.getByRole('button', { name: 'Sign out' }).click();
  await page.getByLabel('Password').waitFor();
  await signIn('technician');
  await expect.poll(async () => (await workOrders()).length, { timeout: 20_000 }).toBe(before + 1);
});

async function writeUp(vin: string, job: string, beforeSending = async () => {}): Promise<void> {
  await page.getByLabel('Account and place').selectOption({ label: 'Brackwater Glass & Screen, Main yard' });
  await page.getByRole('button', { name: 'Go on to the vehicle' }).click();
  await page.getByLabel('VIN, or its last 8').fill(vin);
  await page.getByLabel('Make').fill('Ostra');
  await page.getByLabel('Model', { exact: true }).fill('Vela');
  await page.getByLabel('Job number').fill(job);
  await beforeSending();
  await page.getByRole('button', { name: 'Write it up' }).click();
  await page.getByRole('heading', { name: 'What is wrong, and where?' }).waitFor();
}

async function addLine(damage: string, repair: RegExp, inches: string): Promise<void> {
  await page.getByLabel('Part', { exact: true }).selectOption({ label: 'Tailgate lining' });
  await page.getByLabel('Damage', { exact: true }).selectOption({ label: damage });
  await page.getByRole('button', { name: 'Go on: what it is made of' }).click();
  await page.getByRole('button', { name: 'Marks relax and lie down; cuts stay open' }).click();
  await expectText(page, 'Likely foam-backed vinyl', 'Forbidden on it');
  const field = page.getByLabel('Repair', { exact: true });
  const wanted = (await field.locator('option').allTextContents()).find((each) => repair.test(each));
  await field.selectOption({ label: wanted ?? 'no such repair' });
  await page.getByLabel('Measured size').fill(inches);
  await page.getByRole('button', { name: 'Keep the line' }).click();
  await page.getByRole('heading', { name: 'Photos', exact: true }).waitFor();
}

/** Takes what the page proposes, and answers with the digest of what was taken. */
async function takePhoto(stage: 'before' | 'after_heat' | 'after', seed: number): Promise<string> {
  const shot = await tailgatePhoto(stage, seed);
  const before = await page.locator('[data-live="kept"] img').count();
  const field = page.getByLabel('Photo', { exact: true });
  const isSentAtOnce = (await field.getAttribute('data-photo')) === 'send';
  await field.setInputFiles(shot);
  if (!isSentAtOnce) await page.getByRole('button', { name: 'Keep the photo' }).click();
  await expect
    .poll(() => page.locator('[data-live="kept"] img').count(), { timeout: 20_000 })
    .toBe(before + 1);
  return createHash('sha256').update(shot.buffer).digest('hex');
}

async function takeAnother(purpose: string, seed: number): Promise<string> {
  const path = new URL(page.url()).pathname.replace(/\/photos$/, '');
  await page.goto(`${line.address}${path}/photos?choose=yes`);
  await page.getByRole('radio', { name: purpose, exact: true }).check();
  await page.getByRole('radio', { name: /tailgate lining/i }).check();
  return takePhoto(purpose === 'After' ? 'after' : 'after_heat', seed);
}

async function accept(): Promise<void> {
  await page.getByRole('heading', { name: 'Please look at the repair' }).waitFor();
  expect(await page.locator('body').innerText()).not.toMatch(/\$|\d+\.\d\d/);
  await page.getByLabel('Accepted', { exact: true }).check();
  await page.getByRole('textbox', { name: 'Your name' }).fill('Elowen Tarrish');
  const pad = page.locator('canvas[data-signature]');
  await pad.scrollIntoViewIfNeeded();
  const box = await pad.boundingBox();
  if (!box) throw new Error('there is no place to draw');
  await page.mouse.move(box.x + 30, box.y + box.height / 2);
  await page.mouse.down();
  for (let step = 1; step <= 12; step += 1)
    await page.mouse.move(box.x + 30 + step * 18, box.y + box.height / 2 + (step % 2 ? 18 : -18));
  await page.mouse.up();
  await page.getByLabel(/I give this answer myself/).check();
  await expectWellMade(page, 'no-signal-3');
  await page.getByRole('button', { name: 'Give my answer' }).click();
  await expectText(page, 'Kept on this phone', 'Elowen Tarrish');
  await page.getByRole('link', { name: 'Hand the phone back' }).click();
}

function first(view: WorkOrderView | undefined): WorkOrderView {
  if (view === undefined) throw new Error('there is no work order');
  return view;
}

async function workOrders(): Promise<readonly WorkOrderView[]> {
  const { services } = world;
  const { rows } = must(await listWorkOrders(services, business.office, {}));
  return Promise.all(rows.map(async ({ id }) => must(await readWorkOrder(services, business.office, id))));
}
