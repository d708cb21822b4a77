import AxeBuilder from 'axe-core';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { billingDesk } from '../support/billing-desk.ts';
import { launchBrowser } from '../support/browser.ts';
import { openWeb } from '../support/web.ts';
import { aBusiness, anAccount, type Business, must, openWorld } from '../support/world.ts';

/** The bookkeeper's month end: reports and the close of August, by keyboard. Figures of an invoice of 284.90. */

let business: Business;
let browser: Browser;
let address: string;

beforeAll(async () => {
  const world = await openWorld();
  business = await aBusiness(world);
  const account = await anAccount(business);
  const desk = billingDesk(business);
  const invoice = await desk.issued(account);
  must(await desk.pay({ account, amount: '100.00', for: [[invoice, '100.00']] }));
  world.at('2026-09-02T09:00');
  address = await (await openWeb(world)).listen();
  browser = await launchBrowser();
});
afterAll(() => browser.close());

const desk = { width: 1280, height: 900 };
const phone = { width: 390, height: 844 };

test('the bookkeeper finds the month close in the menu and closes August, all by keyboard', {
  timeout: 120_000,
}, async () => {
  const page = await signedIn('bookkeeper', desk);
  await tabTo(page, 'Reports');
  await page.keyboard.press('Enter');
  await tabTo(page, 'Month close');
  await page.keyboard.press('Enter');
  await page.getByRole('heading', { name: 'August 2026', level: 1 }).waitFor();
  expect(await page.locator('body').innerText()).toContain('Aging and ledger both come to $184.90.');
  await tabTo(page, 'Close August 2026');
  await page.keyboard.press('Enter');
  await page.getByText('Only the owner of the business opens a closed month again.').waitFor();
  expect(await page.locator('.lead').innerText()).toContain('Closed');
});

test('the menu opens without JavaScript, one group at a time, and says where one is', {
  timeout: 120_000,
}, async () => {
  const page = await signedIn('owner', phone, false);
  await page.getByText('Money', { exact: true }).click();
  await page.getByText('Reports', { exact: true }).click();
  expect(await page.getByRole('link', { name: 'Payments', exact: true }).isVisible()).toBe(false);
  await page.getByRole('link', { name: 'Sales tax' }).click();
  await page.getByRole('heading', { name: 'Sales tax', level: 1 }).waitFor();
  await page.getByText('Reports, you are here').click();
  expect(await page.locator('[aria-current="page"]').innerText()).toBe('Sales tax');
});

test('reports fit a desk and a phone, with the menu open, and have nothing that axe-core objects to', {
  timeout: 240_000,
}, async () => {
  for (const viewport of [desk, phone]) {
    const page = await signedIn('owner', viewport);
    for (const path of [
      '/office/aging',
      '/office/sales-tax?from=2026-08-01&to=2026-08-31',
      '/office/commissions?from=2026-08-01&to=2026-08-31',
      '/office/figures?from=2026-08-01&to=2026-08-31',
      '/office/month-close?month=2026-08',
      '/office/business',
    ]) {
      await page.goto(`${address}${path}`);
      for (const group of await page.locator('.menu-group summary').all()) {
        await group.click();
        expect([path, viewport.width, await overflow(page)]).toEqual([path, viewport.width, 0]);
      }
      expect([path, ...(await violations(page))]).toEqual([path]);
    }
    await page.context().close();
  }
});

async function signedIn(who: string, viewport: typeof desk, javaScriptEnabled = true): Promise<Page> {
  const context = await browser.newContext({ viewport, javaScriptEnabled });
  const page = await context.newPage();
  page.setDefaultTimeout(15_000);
  await page.goto(`${address}/sign-in`);
  await page.getByLabel('E-mail').fill(business.emailOf(who));
  await page.getByLabel('Password').fill(business.password);
  await page.getByRole('button', { name: 'Sign in' }).click();
  await page.getByRole('button', { name: 'Sign out' }).waitFor();
  return page;
}

/** Presses Tab until something with these words has the focus. */
async function tabTo(page: Page, words: string): Promise<void> {
  for (let presses = 0; presses < 80; presses += 1) {
    await page.keyboard.press('Tab');
    const focused = await page.evaluate(() => document.activeElement?.textContent ?? '');
    if (focused.trim().startsWith(words)) return;
  }
  throw new Error(`the keyboard never reached “${words}”`);
}

/** How many pixels the page is wider than the window. */
function overflow(page: Page): Promise<number> {
  return page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
}

async function violations(page: Page): Promise<readonly string[]> {
  await page.evaluate(AxeBuilder.source);
  return page.evaluate(async () => {
    const { axe } = globalThis as unknown as {
      axe: { run(): Promise<{ violations: { id: string; nodes: { html: string }[] }[] }> };
    };
    return (await axe.run()).violations.map(
      (each) => `${each.id}: ${each.nodes.map((node) => node.html.slice(0, 120)).join(' | ')}`,
    );
  });
}
