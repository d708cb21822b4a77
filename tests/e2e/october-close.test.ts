import type { Page } from 'playwright-core';
import { beforeAll, expect, test } from 'vitest';
import { demoPassword } from '../../apps/cli/src/demo/sign-ins.ts';
import { type Demo, demoMadeAt, openDemo } from '../support/demo.ts';
import {
  andArrive,
  desk,
  expectText,
  expectWellMade,
  type InBrowser,
  openBrowser,
} from '../support/in-browser.ts';
import { runJobs } from '../support/run-jobs.ts';

/**
 * The bookkeeper of the demo closes October without touching the mouse. The figures are those agreed for the demo
 * business: 1,824.65 owed as of October 31, and of October's tax 18.10 + 3.29 left after credit notes.
 */

let demo: Demo;
let site: InBrowser;

beforeAll(async () => {
  demo = await openDemo();
  demo.world.setClock(demoMadeAt);
  site = await openBrowser(demo.web);
}, 240_000);

test('a payment, the aging, the statements, the tax report and the close of October, all by keyboard', {
  timeout: 240_000,
}, async () => {
  const page = await site.signedIn('hollis@quillfeather.example.com', demoPassword, desk);
  await payment(page);
  await aging(page);
  await statements(page);
  await salesTax(page);
  await close(page);
  await refusedInOctober(page);
});

/** A fleet pays its one invoice; the amount is recognized and ticked. */
async function payment(page: Page): Promise<void> {
  await menu(page, 'Money', 'Record a payment');
  await typePayer(page, 'dr');
  await expectText(page, 'From Dunmore Row Fleet Hire');
  await tabTo(page, 'Check');
  await page.keyboard.press('Space');
  await typeInto(page, 'Amount received', '265.45');
  await typeInto(page, 'Received on', '11052026');
  await typeInto(page, 'Reference', '90311');
  await tabTo(page, 'Amount received', 'Shift+Tab');
  await tabTo(page, 'Tick it');
  await expectText(page, '$265.45 is exactly INV-2012');
  await page.keyboard.press('Enter');
  await expectText(page, '$265.45 is put on documents. $0.00 is left.');
  await tabTo(page, 'Pay INV-2012');
  await page.keyboard.press('Space');
  await expectText(page, '$265.45 is left');
  await page.keyboard.press('Space');
  await expectText(page, '$265.45 is put on documents. $0.00 is left.');
  await expectWellMade(page, 'close-payment');
  await tabTo(page, 'Record the payment');
  await enter(page);
  await expectText(page, 'Payment from Dunmore Row Fleet Hire', 'INV-2012', 'received Nov 5, 2026');
  await expectWellMade(page, 'close-payment-recorded');
}

/** What came in since does not change what was owed then. */
async function aging(page: Page): Promise<void> {
  await menu(page, 'Reports', 'Aging');
  await typeInto(page, 'As of', '10312026');
  await enter(page);
  await expectText(page, 'As of Oct 31, 2026', '$1,824.65');
  expect(await page.getByRole('row', { name: /^Dunmore Row/ }).innerText()).toContain('$265.45');
  await expectWellMade(page, 'close-aging');
}

async function statements(page: Page): Promise<void> {
  await menu(page, 'Billing', 'Statements');
  await expectWellMade(page, 'close-statements');
  await tabTo(page, 'Issue the statements of all accounts');
  await enter(page);
  await expectText(page, 'Statements of October 2026', '0 of 6 accounts done');
  await expectWellMade(page, 'close-run-waiting');
  await runJobs(demo.world);
  await expectText(page, '6 of 6 accounts done: 6 issued', 'Mail 6 statements');
  await expectWellMade(page, 'close-run-done');
}

async function salesTax(page: Page): Promise<void> {
  await menu(page, 'Reports', 'Sales tax');
  await typeInto(page, 'From', '10012026');
  await typeInto(page, 'To', '10312026');
  await enter(page);
  await expectText(page, 'Oct 1, 2026 to Oct 31, 2026', '$18.10', '$3.29', '$21.39');
  await expectWellMade(page, 'close-sales-tax');
}

/** Months are closed in their order, so the two before it come first. */
async function close(page: Page): Promise<void> {
  await menu(page, 'Reports', 'Month close');
  for (const month of ['August 2026', 'September 2026', 'October 2026']) {
    if ((await page.getByRole('heading', { level: 1 }).innerText()) !== month) {
      await tabTo(page, month);
      await enter(page);
    }
    await expectText(page, 'Open');
    await expectWellMade(page, `close-${month.slice(0, 3)}`);
    await tabTo(page, `Close ${month}`);
    await enter(page);
    await expectText(page, 'Closed', 'Only the owner of the business opens a closed month again.');
  }
  await expectWellMade(page, 'close-closed');
}

async function refusedInOctober(page: Page): Promise<void> {
  await menu(page, 'Money', 'Record a payment');
  await typePayer(page, 'tr');
  await tabTo(page, 'Check');
  await page.keyboard.press('Space');
  await typeInto(page, 'Amount received', '163.76');
  await typeInto(page, 'Received on', '10302026');
  await typeInto(page, 'Reference', '7801');
  await tabTo(page, 'Pay INV-2015');
  await page.keyboard.press('Space');
  await expectText(page, '$163.76 is put on documents. $0.00 is left.');
  await page.keyboard.press('Enter');
  await expectText(page, 'The books of October 2026 are closed.');
  await expectWellMade(page, 'close-refused');
  expect(await page.getByLabel('Check', { exact: true }).isChecked()).toBe(true);
  expect(await page.getByLabel('Amount received').inputValue()).toBe('163.76');
  expect(await page.getByLabel('Received on').inputValue()).toBe('2026-10-30');
  expect(await page.getByLabel('Reference').inputValue()).toBe('7801');
  expect(await page.getByLabel('Pay INV-2015').isChecked()).toBe(true);
  expect(await page.getByLabel('To INV-2015').inputValue()).toBe('163.76');
  const october = await demo.ask<{ payments: unknown[] }>('hollis@quillfeather.example.com', '/payments');
  expect(JSON.stringify(october)).not.toContain('7801');
}

/** Opens a group of the menu and goes to one of its pages. */
async function menu(page: Page, group: string, entry: string): Promise<void> {
  await tabTo(page, group);
  await page.keyboard.press('Enter');
  await tabTo(page, entry);
  await enter(page);
}

/** The field has the focus by itself; a short name and the Enter key are enough. */
async function typePayer(page: Page, shortName: string): Promise<void> {
  await expect.poll(() => focusedName(page)).toBe('Account');
  await page.keyboard.type(shortName);
  await enter(page);
}

function enter(page: Page): Promise<void> {
  return andArrive(page, () => page.keyboard.press('Enter'));
}

/** Goes on to a field and types over what is in it. */
async function typeInto(page: Page, label: string, keys: string): Promise<void> {
  await tabTo(page, label);
  await page.keyboard.type(keys);
}

/** Presses Tab until what is called that has the focus. */
async function tabTo(page: Page, name: string, key: 'Tab' | 'Shift+Tab' = 'Tab'): Promise<void> {
  for (let presses = 0; presses < 150; presses += 1) {
    await page.keyboard.press(key);
    if ((await focusedName(page)).startsWith(name)) return;
  }
  throw new Error(`the keyboard never reached “${name}”`);
}

function focusedName(page: Page): Promise<string> {
  return page.evaluate(() => {
    const focused = document.activeElement;
    const label = focused instanceof HTMLInputElement ? focused.labels?.[0]?.textContent : undefined;
    return (label ?? focused?.textContent ?? '').trim();
  });
}
