import type { Page } from 'playwright-core';
import { beforeAll, expect, test } from 'vitest';
import { repair } from '../../apps/cli/src/demo/repairs.ts';
import { demoVehicle } from '../../apps/cli/src/demo/vehicles.ts';
import {
  expectText,
  expectWellMade,
  follow,
  type InBrowser,
  openBrowser,
  phone,
  press,
} from '../support/in-browser.ts';
import { keptMails, linkMailedTo } from '../support/mailed-links.ts';
import { runJobs } from '../support/run-jobs.ts';
import { openWeb } from '../support/web.ts';
import { aBusiness, type Business, openWorld, type World } from '../support/world.ts';
import { addLine, takePhotos, writeUp } from './at-the-vehicle.ts';
import { demoAccount } from './demo-account.ts';

/**
 * A dealer's car in the evening, 651.57 and 162.89 after hours: above the advisor's limit of 400.00, so the manager is
 * asked as well. The advisor ticks three lines by the link, which come to 486.57 and 121.64, together 608.21, and
 * passes them on; the manager approves them with tax at 612.59. The figures were agreed beforehand and computed by two
 * programs written apart.
 */

let world: World;
let business: Business;
let site: InBrowser;

beforeAll(async () => {
  world = await openWorld();
  business = await aBusiness(world, { firstWorkOrderNumber: 1037 });
  await demoAccount(business, 'HD');
  site = await openBrowser(await openWeb(world));
});

const lines = [
  repair('LT-L', { part: 'seat_bolster', side: 'left', inches: '3.4', factor: 'perf', trim: 'saddle' }),
  repair('DB-M', { part: 'dash', inches: '2', trim: 'graphite' }),
  repair('LW-P', { part: 'seat_bolster', side: 'right', trim: 'saddle' }),
  repair('SC-S', { part: 'front_door_panel', side: 'left', inches: '2.4', trim: 'graphite' }),
];

test('a dealer’s advisor passes on by the link what is above his limit, and the manager approves it by hers', {
  timeout: 300_000,
}, async () => {
  world.at('2026-10-14T17:50');
  const technician = await site.signedIn(business.emailOf('technician'), business.password, phone);
  await writtenUp(technician);
  await runJobs(world);
  const asked = await keptMails(business);
  expect(asked.flatMap(({ to }) => to).toSorted()).toEqual([
    'aldous@haldentessaly.example.com',
    'linnet@haldentessaly.example.com',
  ]);

  const advisor = await site.visiting(phone);
  await advisor.goto(`${site.address}${await linkMailedTo(business, 'linnet@haldentessaly.example.com')}`);
  await passedOn(advisor);
  await runJobs(world);
  const manager = await site.visiting(phone);
  await manager.goto(`${site.address}${await linkMailedTo(business, 'aldous@haldentessaly.example.com')}`);
  await approved(manager);
  await technician.reload();
  await expectText(technician, 'approved, waits for the technician');
});

async function writtenUp(page: Page): Promise<void> {
  await writeUp(page, {
    place: 'Halden of Tessaly, Service, Service lane',
    vehicle: demoVehicle('Halden', 2026, 'pearl', 137),
    typed: { 'RO number': '48213' },
    afterHours: true,
  });
  for (const line of lines) {
    await addLine(page, line);
    await follow(page, 'Back to the work order');
  }
  await expectText(page, '$651.57', '$162.89', 'Above the standing approval');
  await follow(page, 'Take the before picture');
  await takePhotos(page, lines);
  await press(page, 'Send for approval');
  await expectText(page, 'waiting for approval');
}

async function passedOn(page: Page): Promise<void> {
  await expectText(page, '$651.57', '$162.89', 'More than your limit', '$414.46');
  await expectWellMade(page, 'link-dealer-advisor');
  await page
    .getByRole('radiogroup', { name: /^Crack, dash/ })
    .getByLabel('Decline')
    .check();
  await page.getByLabel('Why not, if you decline').nth(1).fill('The dash goes back to the maker');
  await press(page, 'See the new total');
  await expectText(page, '$486.57', '$121.64', '$608.21', 'Above the limit', '$612.59');
  expect(await page.getByRole('button', { name: /^Approve/ }).count()).toBe(0);
  await expectWellMade(page, 'link-dealer-above-limit');
  await press(page, 'Pass on to Aldous Merrin');
  await expectText(
    page,
    '$608.21',
    'above your limit of $400.00',
    'Aldous Merrin was asked by e-mail, with your ticks.',
  );
  await expectWellMade(page, 'link-dealer-passed-on');
}

async function approved(page: Page): Promise<void> {
  await expectText(page, 'Linnet Vosper went through it', 'It is yours to answer');
  const dash = page.getByRole('radiogroup', { name: /^Crack, dash/ });
  expect(await dash.getByLabel('Decline').isChecked()).toBe(true);
  await expectWellMade(page, 'link-dealer-manager');
  await press(page, 'See the new total');
  await expectText(page, '3 of 4 lines approved', '$486.57', '$121.64', '$612.59');
  await press(page, 'Approve — $612.59');
  await expectText(page, 'Answered: approved, $612.59', 'Aldous Merrin', 'Numbers we need from you');
  await expectWellMade(page, 'link-dealer-approved');
}
