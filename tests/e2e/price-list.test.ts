import { expect, test } from 'vitest';
import {
  andArrive,
  desk,
  expectText,
  expectWellMade,
  follow,
  openBrowser,
  phone,
  press,
} from '../support/in-browser.ts';
import { openWeb } from '../support/web.ts';
import { approvedLine } from '../support/work-in-hand.ts';
import { aBusiness, anAccount, openWorld } from '../support/world.ts';

test('the owner writes the next price list by keyboard, tries it on past work and puts it into force', {
  timeout: 240_000,
}, async () => {
  const world = await openWorld();
  const web = await openWeb(world);
  const business = await aBusiness(world);
  await approvedLine(await anAccount(business, { name: 'Brackwater Glass & Screen' }));
  const browser = await openBrowser(web);
  const page = await browser.signedIn(business.emailOf('owner'), business.password, desk);

  await page.goto(`${browser.address}/office/price-book`);
  await follow(page, 'Price lists in the making');
  await expectWellMade(page, 'price-lists-none');
  await page.getByLabel('Name').fill('Autumn list');
  await press(page, 'Start it');
  await expectWellMade(page, 'price-list-desk');

  // A wrong price, by keyboard alone: it stands beside its cell, with what was typed.
  await page.getByLabel('List price, VC-M').focus();
  await page.keyboard.press('ControlOrMeta+A');
  await page.keyboard.type('210.005');
  await andArrive(page, () => page.keyboard.press('Enter'));
  await expectText(page, 'One thing to correct', '“210.005” has 3 decimals');
  await expectWellMade(page, 'price-list-wrong');
  await page.getByRole('link', { name: /210\.005/ }).click();
  await page.keyboard.press('ControlOrMeta+A');
  await page.keyboard.type('210.00');
  await page.keyboard.press('Tab');
  expect(await page.evaluate(() => document.activeElement?.getAttribute('aria-label'))).toBe(
    'Materials %, VC-M',
  );
  await page.getByLabel('Ends, CM-1').check();
  await press(page, 'Save the list');
  await expectText(page, '1 row differs from the list in force, 1 ending.');
  await expectWellMade(page, 'price-list-saved');

  await follow(page, 'What would change');
  await expectText(page, 'Brackwater Glass & Screen', '$165.75', '$178.50', '+$12.75', '+7.7 %');
  await expectWellMade(page, 'price-trial');
  await follow(page, 'Brackwater Glass & Screen');
  await expectText(page, 'after: list 210.00, Trade −15 % → 178.50');
  await expectWellMade(page, 'price-trial-account');

  const draft = page.url().replace(/\/trial.*/, '');
  await page.goto(`${draft}/csv`);
  await page.getByLabel('Paste it, or mend it here').fill('code;list\nVC-M;210,00');
  await press(page, 'Read it in');
  await expectText(page, 'separated by semicolons');
  await expectWellMade(page, 'price-csv');

  const small = await browser.signedIn(business.emailOf('owner'), business.password, phone);
  for (const [name, part] of [
    ['price-list-phone', ''],
    ['price-csv-phone', '/csv'],
    ['price-trial-phone', '/trial'],
    ['price-publish-phone', '/publish'],
  ] as const) {
    await small.goto(`${draft}${part}`);
    await expectWellMade(small, name);
  }
  await press(small, /^Put it into force from/);
  await expectText(small, 'put it into force on');
  await expectWellMade(small, 'price-list-in-force-phone');
});
