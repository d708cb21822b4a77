import { chainAudit, closeSealDays, decideEstimate } from '@grainwright/operations';
import { beforeAll, expect, test } from 'vitest';
import {
  andArrive,
  desk,
  expectText,
  expectWellMade,
  type InBrowser,
  openBrowser,
  phone,
} from '../support/in-browser.ts';
import { runJobs } from '../support/run-jobs.ts';
import { readyAnswer } from '../support/sealed-work.ts';
import { statementDesk } from '../support/statement-desk.ts';
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

let world: World;
let business: Business;
let lot: Account;
let site: InBrowser;
let answer: Awaited<ReturnType<typeof readyAnswer>>;

beforeAll(async () => {
  world = await openWorld();
  business = await aBusiness(world);
  lot = await anAccount(business, { name: 'Cobble Hill Motors', limit: null });
  site = await openBrowser(await openWeb(world));
  answer = await readyAnswer(lot);
  must(await decideEstimate(world.services, lot.approver, answer));
  await runJobs(world);
  world.at('2026-09-01T08:00');
  await statementDesk(business).run('2026-08', [lot]);
  must(await chainAudit(world.services, business.tenantId));
  must(await closeSealDays(world.services, business.tenantId));
});

test('the owner changes the key at the desk, and the account compares its statement and reads who did what', async () => {
  const office = await site.signedIn(business.emailOf('owner'), business.password, desk);
  await office.goto(`${site.address}/office/seals?from=2026-08-01&to=2026-08-31`);
  await office.getByText('Change the signing key').click();
  await expectWellMade(office, 'office-seals');
  await andArrive(office, () => office.getByRole('button', { name: 'Change the key' }).click());
  await expectText(office, 'Being introduced');
  await runJobs(world);
  await office.reload();
  await expectText(office, 'Introduced by the key before it, seal 2');
  await office.setViewportSize(phone);
  await expectWellMade(office, 'office-seals-narrow');
  await office.goto(`${site.address}/office/work-orders/${answer.workOrderId}/trail`);
  await office.locator('summary', { hasText: 'Show' }).nth(1).click();
  await expectWellMade(office, 'office-trail-narrow');
  await office.setViewportSize(desk);
  await expectWellMade(office, 'office-trail');

  const account = await site.signedIn(lot.emailOf('viewer'), business.password, phone);
  await account.goto(`${site.address}/account/statements/2026-08`);
  const root = (await account.getByText(/^Root of 2026-08-05: /).innerText()).split(': ')[1] ?? '';
  await expectWellMade(account, 'account-statement');
  await andArrive(account, () => account.getByRole('link', { name: 'Compare them now' }).click());
  await expectText(account, root);
  await expectWellMade(account, 'account-seals');
  await account.goto(`${site.address}/account/work-orders/${answer.workOrderId}/trail`);
  await expectText(account, 'Approved', 'Ansel Corvin, Cobble Hill Motors');
  await expectWellMade(account, 'account-trail');
  expect(root).toMatch(/^[0-9a-f]{64}$/);
});
