import type { Page } from 'playwright-core';
import { beforeAll, expect, test } from 'vitest';
import {
  expectText,
  expectWellMade,
  follow,
  type InBrowser,
  openBrowser,
  phone,
  press,
} from '../support/in-browser.ts';
import { linkMailedTo } from '../support/mailed-links.ts';
import { runJobs } from '../support/run-jobs.ts';
import { openWeb } from '../support/web.ts';
import { photographed, writtenUpLine } from '../support/work-in-hand.ts';
import { aBusiness, anAccount, type Business, openWorld, type World } from '../support/world.ts';
import { aLine, sent } from '../support/write-ups.ts';
import { addLine, takePhotos, writeUp } from './at-the-vehicle.ts';
import { demoAccount } from './demo-account.ts';
import { lotRow } from './lot-row.ts';

/**
 * The fifth vehicle of a lot's row is above its standing approval, so the manager is asked by mail. He answers from the
 * link, in a browser that never signed in: the torn armrest goes to auction as it is, and the scuff, then the only
 * repair, is 79.75 instead of 71.78. The figures were agreed beforehand and computed by two programs written apart.
 */

let world: World;
let business: Business;
let site: InBrowser;

beforeAll(async () => {
  world = await openWorld();
  business = await aBusiness(world, { firstWorkOrderNumber: 1034 });
  await demoAccount(business, 'PL');
  site = await openBrowser(await openWeb(world));
});

test('the lot manager answers from the link in his mail, with the new price before the answer', {
  timeout: 300_000,
}, async () => {
  world.at('2026-10-06T09:40');
  const technician = await site.signedIn(business.emailOf('technician'), business.password, phone);
  await fifthVehicle(technician);
  await runJobs(world);
  const link = await linkMailedTo(business, 'ravi@pennylantern.example.com');

  const manager = await site.visiting(phone);
  await manager.goto(`${site.address}${link}`);
  await expectText(manager, 'PL-255', '$305.53', '$233.75', '$71.78', 'More than your limit');
  await expectWellMade(manager, 'link-lot-estimate');
  await manager
    .getByRole('radiogroup', { name: /armrest/ })
    .getByLabel('Decline')
    .check();
  await manager.getByLabel('Why not, if you decline').first().fill('Going to auction');
  await press(manager, 'See the new total');
  // By itself this vehicle would be charged the trip of 45.00; the visit's invoice charges none.
  await expectText(manager, '1 of 2 lines approved', '$71.78', '$79.75', '$124.75', 'charged once a visit');
  await expectText(manager, 'Trip: was $0.00', 'now $45.00');
  await expectWellMade(manager, 'link-lot-new-total');
  await press(manager, 'Approve — $124.75');
  await expectText(manager, 'Answered: approved, $124.75', 'Ravi Stellmacher', 'Going to auction');
  await expectWellMade(manager, 'link-lot-answered');
  // It comes to the phone by itself.
  await expectText(technician, 'approved, waits for the technician');
});

test('two vehicles of one visit are seen on one page and get one yes', { timeout: 120_000 }, async () => {
  world.at('2026-10-07T09:00');
  const fleet = await anAccount(business, { name: 'Dunmore Row Fleet Hire', limit: '900.00' });
  for (const price of ['120.00', '80.00']) {
    const line = aLine({ byHandPrice: price, byHandReason: 'agreed', byHandMaterialsPercent: '20' });
    const { workOrderId, lineId } = await writtenUpLine(fleet, line);
    await photographed(fleet, workOrderId, lineId, 'before');
    await sent(fleet, workOrderId);
  }
  await runJobs(world);
  const approver = await site.visiting(phone);
  await approver.goto(`${site.address}${await linkMailedTo(business, fleet.emailOf('approver'))}`);
  await expectText(approver, '2 vehicles wait for your answer');
  await expectWellMade(approver, 'link-visit');
  const yes = approver.getByRole('button', { name: /^Yes to all 2 vehicles/ });
  await Promise.all([approver.waitForURL(/\/approvals$/), yes.click()]);
  await expectText(approver, '2 vehicles approved');
  await expectWellMade(approver, 'link-visit-answered');
  await follow(approver, 'All vehicles of this visit');
  await expectText(approver, 'Nothing waits for you');
  await expectWellMade(approver, 'link-visit-over');
  expect(await approver.context().cookies()).toEqual([]);
});

async function fifthVehicle(page: Page): Promise<void> {
  const fifth = lotRow.find(({ stock }) => stock === 'PL-255');
  if (fifth === undefined) throw new Error('the row has no fifth vehicle');
  await page.goto(`${site.address}/field`);
  const place = 'Penny Lantern Autos, Front row';
  await writeUp(page, { place, vehicle: fifth.vehicle, typed: { 'Stock number': fifth.stock } });
  const workOrder = page.url().replace(/\/lines\/new$/, '');
  for (const line of fifth.lines) {
    await addLine(page, line);
    await page.goto(workOrder);
  }
  await page.goto(`${workOrder}/photos`);
  await takePhotos(page, fifth.lines);
  await page.goto(workOrder);
  await press(page, 'Send for approval');
  await expectText(page, 'waiting for approval');
}
