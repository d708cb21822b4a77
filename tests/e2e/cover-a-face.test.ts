import type { LegalHoldId, RetentionRuleId } from '@grainwright/domain';
import { addPhoto, placeLegalHold, setRetentionRule } from '@grainwright/operations';
import type { Locator, Page } from 'playwright-core';
import { beforeAll, expect, test } from 'vitest';
import { billingDesk } from '../support/billing-desk.ts';
import {
  desk,
  expectText,
  expectWellMade,
  type InBrowser,
  openBrowser,
  phone,
  press,
} from '../support/in-browser.ts';
import { runJobs } from '../support/run-jobs.ts';
import { openWeb } from '../support/web.ts';
import { photoInput, writtenUpLine } from '../support/work-in-hand.ts';
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

/** A bystander’s face is covered at the desk by keyboard, a license plate on the phone by drawing over it. */

let world: World;
let business: Business;
let dealer: Account;
let inBrowser: InBrowser;

beforeAll(async () => {
  world = await openWorld();
  business = await aBusiness(world);
  dealer = await anAccount(business, { limit: null });
  inBrowser = await openBrowser(await openWeb(world));
});

const partOf = (page: Page, number: number) =>
  page.getByRole('group', { name: `Part ${number}`, exact: true });
const numbersOf = (part: Locator) =>
  Promise.all(
    ['From the left', 'From the top', 'Width', 'Height'].map((label) => part.getByLabel(label).inputValue()),
  );
const rectangles = (page: Page) => page.locator('[data-covering] rect');

test('parts of a photo are covered by keyboard and by drawing, and the page shows what the others see', async () => {
  const work = await writtenUpLine(dealer);
  const { buffer } = await tailgatePhoto('before', 4);
  const input = photoInput(dealer, buffer, { ...work, purpose: 'before' });
  const { photoId } = must(
    await addPhoto(world.services, business.technician, { ...input, bytesMax: 20_000_000 }),
  );
  await runJobs(world);
  const address = `${inBrowser.address}/office/photos/${photoId}/covering`;
  const office = await inBrowser.signedIn(business.emailOf('office'), business.password, desk);
  await office.goto(address);
  await partOf(office, 1).getByLabel('From the left').focus();
  for (const number of ['10', '20', '15', '25.5']) {
    await office.keyboard.type(number);
    await office.keyboard.press('Tab');
  }
  expect(await rectangles(office).count()).toBe(1);
  expect(await rectangles(office).first().getAttribute('height')).toBe('25.5');
  await office.getByLabel('Why', { exact: true }).focus();
  await office.keyboard.type('a bystander’s face');
  await expectWellMade(office, 'covering-1-typed');
  await Promise.all([office.waitForEvent('domcontentloaded'), office.keyboard.press('Enter')]);
  await expectText(office, 'Parts are being covered', 'a bystander’s face');
  await runJobs(world);

  const technician = await inBrowser.signedIn(business.emailOf('technician'), business.password, phone);
  await technician.goto(address);
  await expectText(technician, 'Parts are covered');
  const picture = technician.locator('[data-covering]');
  await picture.scrollIntoViewIfNeeded();
  const box = await picture.boundingBox();
  if (box === null) throw new Error('the picture has no place');
  await technician.mouse.move(box.x + box.width * 0.5, box.y + box.height * 0.5);
  await technician.mouse.down();
  await technician.mouse.move(box.x + box.width * 0.8, box.y + box.height * 0.75, { steps: 4 });
  await technician.mouse.up();
  expect(await rectangles(technician).count()).toBe(2);
  expect(await numbersOf(partOf(technician, 1))).toEqual(['10', '20', '15', '25.5']);
  const drawn = (await numbersOf(partOf(technician, 2))).map(Number);
  for (const [index, wanted] of [50, 50, 30, 25].entries())
    expect(Math.abs((drawn[index] ?? 0) - wanted)).toBeLessThan(1);
  await partOf(technician, 2).getByLabel('What it is').selectOption('plate');
  await technician.getByLabel('Why', { exact: true }).fill('the plate beside it');
  await expectWellMade(technician, 'covering-2-drawn');
  await press(technician, 'Cover these parts');
  await runJobs(world);
  await technician.reload();
  await expectText(technician, 'What the others see', 'face, license plate');
  const shown = technician.getByRole('img', { name: 'The picture with its parts covered' });
  expect(await shown.evaluate((image: HTMLImageElement) => image.naturalWidth)).toBeGreaterThan(0);
  await expectWellMade(technician, 'covering-3-covered');
});

test('the owner sees what would go before letting the rules delete, and what a hold keeps', async () => {
  const { services } = world;
  const books = billingDesk(business);
  for (const held of [false, true]) {
    const invoice = await books.issued(dealer);
    must(await books.pay({ account: dealer, amount: '284.90', for: [[invoice, '284.90']] }));
    const workOrderId = invoice.vehicles[0]?.workOrderId ?? null;
    const hold = { id: world.newId<LegalHoldId>(), workOrderId, accountId: null, reason: 'claim 77-A' };
    if (held) must(await placeLegalHold(services, business.owner, hold));
  }
  const rule = { kind: 'photos', keep: { period: '2', unit: 'years' }, reason: '' };
  must(await setRetentionRule(services, business.owner, { id: world.newId<RetentionRuleId>(), ...rule }));
  world.at('2028-08-06T09:00');
  const owner = await inBrowser.signedIn(business.emailOf('owner'), business.password, desk);
  await owner.goto(`${inBrowser.address}/office/retention`);
  await expectText(owner, '2 years', 'stays: legal hold', 'The rules do not delete');
  await owner.getByLabel('How long').fill('30');
  await owner.getByLabel('Days or years').selectOption('days');
  await press(owner, 'Set it');
  await expectText(owner, 'Keep photos for at least 365 days.');
  await expectWellMade(owner, 'retention-1-desk');
  await owner.setViewportSize(phone);
  await owner.getByLabel('Why they may delete').fill('our adviser agreed');
  await press(owner, 'Let the rules delete …');
  await expectText(owner, 'Let the rules delete?', 'our adviser agreed');
  await expectWellMade(owner, 'retention-2-asked');
  await press(owner, 'Let the rules delete');
  await expectText(owner, 'Stop deleting');
  await expectWellMade(owner, 'retention-2-phone');
  await owner.goto(`${inBrowser.address}/office/accounts/${dealer.id}/legal-holds`);
  await owner.getByLabel('Why it is to be kept').fill('a lawsuit');
  await press(owner, 'Place the hold');
  await expectText(owner, 'Legal hold on all of');
  await expectWellMade(owner, 'retention-3-hold');
});
