import { expect, test } from 'vitest';
import { billingDesk } from '../support/billing-desk.ts';
import { launchBrowser } from '../support/browser.ts';
import { openWeb } from '../support/web.ts';
import { aBusiness, anAccount, openWorld } from '../support/world.ts';

test('a bookkeeper records a check over two of three invoices without touching the mouse', {
  timeout: 120_000,
}, async () => {
  const world = await openWorld();
  const web = await openWeb(world);
  const business = await aBusiness(world);
  const desk = billingDesk(business);
  const account = await anAccount(business, { shortName: 'PL', name: 'Penny Lantern Auto Row' });
  const invoices = [await desk.issued(account), await desk.issued(account), await desk.issued(account)];
  const address = await web.listen();
  const browser = await launchBrowser();
  try {
    const page = await browser.newPage();
    const focused = () => page.evaluate(() => document.activeElement?.getAttribute('name'));
    const left = () => page.getByText(/is put on documents\./).textContent();
    await page.goto(`${address}/sign-in`);
    await page.getByLabel('E-mail').fill(business.emailOf('bookkeeper'));
    await page.getByLabel('Password').fill(business.password);
    await page.keyboard.press('Enter');
    await page.waitForURL(/office/);
    await page.goto(`${address}/office/payments/new`);
    await page.keyboard.type('pl');
    await page.keyboard.press('Enter');
    await page.waitForURL(/account=/);
    await page.getByLabel('Check', { exact: true }).focus();
    await page.keyboard.press('Space');
    await page.keyboard.press('Tab');
    expect(await focused()).toBe('amount');
    await page.keyboard.type('569.80');
    // Two of them come to the amount, which is offered; the check is for others.
    expect(await page.locator('[data-match]').textContent()).toContain('$569.80 is exactly');
    await page.getByRole('checkbox').first().focus();
    await page.keyboard.press('Space');
    expect(await left()).toBe('$284.90 is put on documents. $284.90 is left and stays account credit.');
    await page.keyboard.press('ArrowDown');
    await page.keyboard.press('ArrowDown');
    await page.keyboard.press('Space');
    expect(await left()).toBe('$569.80 is put on documents. $0.00 is left.');
    await page.keyboard.press('Enter');
    await page.waitForURL(/payments\/[0-9a-f]{8}/);
  } finally {
    await browser.close();
  }
  const open = [];
  for (const invoice of invoices) open.push((await desk.reread(invoice)).openMinor);
  expect(open).toEqual([0n, 28490n, 0n]);
});
