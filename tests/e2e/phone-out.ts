import { createHash } from 'node:crypto';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { BrowserContext, Page } from 'playwright-core';
import { expect, onTestFinished } from 'vitest';
import { launchPhone } from '../support/browser.ts';
import type { CutLine } from '../support/cut-line.ts';
import { expectText, expectWellMade, phone, press } from '../support/in-browser.ts';
import { killPhone } from '../support/kill-phone.ts';
import type { Business } from '../support/world.ts';
import { sign } from './at-the-vehicle.ts';
import { tailgatePhoto } from './pictures.ts';

/** A phone at a vehicle, whose line to the service can be cut. It is thrown away when the test is over. */
export interface PhoneOut {
  readonly line: CutLine;
  readonly business: Business;
  /** What is open on it now: another one after its end. */
  readonly page: Page;
  /** Another window on the same phone. */
  openWindow(): Promise<Page>;
  /** Ends the app at once and opens it again, with what it has kept. */
  endAndOpen(): Promise<void>;
  /** The session ends, as after a long day. */
  forgetSession(): Promise<void>;
}

/** The phone’s clock stands still at `now`; somebody has signed in on it and taken the day along. */
export async function phoneOut(
  { line, business, now }: { readonly line: CutLine; readonly business: Business; readonly now: string },
  who = 'technician',
): Promise<PhoneOut> {
  const folder = await mkdtemp(join(tmpdir(), 'grainwright-phone-'));
  let context: BrowserContext;
  let page: Page;
  const open = async () => {
    context = await launchPhone(folder, phone);
    await context.clock.setFixedTime(new Date(now));
    page = context.pages()[0] ?? (await context.newPage());
    page.setDefaultTimeout(20_000);
  };
  await open();
  onTestFinished(async () => {
    await context.close();
    await rm(folder, { recursive: true, force: true });
    line.breakOn(null);
    await line.mend();
  });
  const out: PhoneOut = {
    line,
    business,
    get page() {
      return page;
    },
    openWindow: () => context.newPage(),
    endAndOpen: async () => {
      await Promise.all([context.waitForEvent('close'), killPhone(folder)]);
      await open();
    },
    forgetSession: () => context.clearCookies(),
  };
  await signIn(out, who);
  return out;
}

export async function signIn(out: PhoneOut, who: string): Promise<void> {
  const { page, business } = out;
  await goTo(out, '/sign-in');
  await page.getByLabel('E-mail').fill(business.emailOf(who));
  await page.getByLabel('Password').fill(business.password);
  await page.getByRole('button', { name: 'Sign in' }).press('Enter');
  await page.getByRole('button', { name: 'Sign out' }).waitFor();
  await goTo(out, '/field');
  await readyForNoSignal(page);
}

export async function signOut({ page }: PhoneOut): Promise<void> {
  await page.getByRole('button', { name: 'Sign out' }).click();
  await page.getByLabel('Password').waitFor();
}

export async function goTo({ page, line }: PhoneOut, path: string): Promise<void> {
  await page.goto(`${line.address}${path}`);
}

export const waiting = '/field/phone/waiting';

export async function sendNow(out: PhoneOut): Promise<void> {
  await goTo(out, waiting);
  await press(out.page, 'Send now');
}

/** The app is there and the day was taken along. */
async function readyForNoSignal(page: Page): Promise<void> {
  await expect.poll(() => page.evaluate(isReadyForNoSignal), { timeout: 20_000 }).toBe(true);
}

/** In the page. */
async function isReadyForNoSignal(): Promise<boolean> {
  const registration = await navigator.serviceWorker.ready;
  if (registration.active?.state !== 'activated') return false;
  const found = (await indexedDB.databases()).find(({ name }) => name?.startsWith('grainwright-phone-'));
  if (found?.name === undefined) return false;
  const name = found.name;
  return new Promise((resolve) => {
    const opening = indexedDB.open(name);
    opening.onsuccess = () => {
      const asked = opening.result.transaction('things').objectStore('things').count('snapshot');
      asked.onsuccess = () => {
        opening.result.close();
        resolve(asked.result === 1);
      };
    };
  });
}

/** `beforeSending` comes when the form is filled in. */
export async function writeUp(
  page: Page,
  { vin, job }: { readonly vin: string; readonly job: string },
  beforeSending = async () => {},
): Promise<void> {
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

export async function addLine(page: Page, damage: string, repair: RegExp, inches: string): Promise<void> {
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
export async function takePhoto(
  page: Page,
  stage: 'before' | 'after_heat' | 'after',
  seed: number,
): Promise<string> {
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

export async function takeAnother(page: Page, purpose: string, seed: number): Promise<string> {
  const { origin, pathname } = new URL(page.url());
  await page.goto(`${origin}${pathname.replace(/\/photos$/, '')}/photos?choose=yes`);
  await page.getByRole('radio', { name: purpose, exact: true }).check();
  await page.getByRole('radio', { name: /tailgate lining/i }).check();
  return takePhoto(page, purpose === 'After' ? 'after' : 'after_heat', seed);
}

/** Turned round, signed and handed back. */
export async function accept(page: Page): Promise<void> {
  await page.getByRole('heading', { name: 'Please look at the repair' }).waitFor();
  expect(await page.locator('body').innerText()).not.toMatch(/\$|\d+\.\d\d/);
  await page.getByLabel('Accepted', { exact: true }).check();
  await sign(page, 'Elowen Tarrish');
  await page.getByLabel(/I give this answer myself/).check();
  await expectWellMade(page, 'no-signal-3');
  await page.getByRole('button', { name: 'Give my answer' }).click();
  await expectText(page, 'Kept on this phone', 'Elowen Tarrish');
  await page.getByRole('link', { name: 'Hand the phone back' }).click();
}
