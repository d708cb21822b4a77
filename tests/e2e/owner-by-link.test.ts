import { beforeAll, expect, test } from 'vitest';
import {
  expectText,
  expectWellMade,
  follow,
  type InBrowser,
  openBrowser,
  phone,
  press,
  wordsOf,
} from '../support/in-browser.ts';
import { runJobs } from '../support/run-jobs.ts';
import { openWeb } from '../support/web.ts';
import { finishedLine } from '../support/work-in-hand.ts';
import {
  type Account,
  aBusiness,
  anAccount,
  type Business,
  openWorld,
  type World,
} from '../support/world.ts';

/**
 * A tint shop burnt a trim; its customer, who has left, has to accept. The technician makes a link, and the owner answers
 * in a browser of their own with nobody signed in. That the owner sees no price and may accept with a remark is common
 * practice, no published source.
 */

let world: World;
let business: Business;
let tintShop: Account;
let inBrowser: InBrowser;

beforeAll(async () => {
  world = await openWorld();
  business = await aBusiness(world);
  tintShop = await anAccount(business, { name: 'Umbra Film', kind: 'tint_shop', limit: null });
  inBrowser = await openBrowser(await openWeb(world));
});

async function linkFromThePhone() {
  const { workOrderId } = await finishedLine(tintShop);
  await runJobs(world);
  const technician = await inBrowser.signedIn(business.emailOf('technician'), business.password, phone);
  await technician.goto(`${inBrowser.address}/field/work-orders/${workOrderId}`);
  await follow(technician, 'The owner has left: send a link');
  await technician.getByLabel('Who answers').fill('Orrin Vasek');
  await expectWellMade(technician, 'owner-link-1-who');
  await press(technician, 'Make the link');
  // Without a way to reach them it comes back with the name still there.
  await expectText(technician, 'Write their telephone number, their e-mail address, or both.');
  expect(await technician.getByLabel('Who answers').inputValue()).toBe('Orrin Vasek');
  await technician.getByLabel('Their phone').fill('212-555-0142');
  await press(technician, 'Make the link');
  await expectText(technician, 'The link is made');
  await expectWellMade(technician, 'owner-link-2-made');
  const message = await technician
    .getByRole('link', { name: 'Text it to 212-555-0142' })
    .getAttribute('href');
  const address = await technician.getByLabel('The link. It is shown only now').inputValue();
  // RFC 5724: the number, then what is to be said.
  expect(message).toMatch(/^sms:2125550142\?body=/);
  expect(decodeURIComponent(message ?? '')).toContain(address);
  await follow(technician, 'Back to the work order');
  await expectText(technician, 'Orrin Vasek can answer by a link until');
  return { workOrderId, address: `${inBrowser.address}${new URL(address).pathname}` };
}

test('the tint shop’s owner accepts with a remark from a link', { timeout: 240_000 }, async () => {
  const { workOrderId, address } = await linkFromThePhone();
  const owner = await inBrowser.visiting(phone);
  await owner.goto(address);
  await expectText(owner, 'Please look at the repair', 'it does not make it a new part');
  await expect.poll(() => owner.locator('.before-after img').count()).toBe(2);
  expect(await wordsOf(owner)).not.toContain('$');
  await expectWellMade(owner, 'owner-link-3-look');
  await owner.getByLabel('Accepted with a remark').check();
  await owner.getByLabel('Your name', { exact: true }).fill('Orrin Vasek');
  await owner.getByRole('checkbox', { name: /I give this answer myself/ }).check();
  await press(owner, 'Give my answer');
  // The remark is asked for, and what was typed is still there.
  await expectText(owner, 'Write the remark');
  expect(await owner.getByLabel('Your name', { exact: true }).inputValue()).toBe('Orrin Vasek');
  await expectWellMade(owner, 'owner-link-4-asked-again');
  await owner.getByRole('textbox', { name: 'Remark' }).fill('a faint edge along the seam in low sun');
  await drawSignature(owner);
  await press(owner, 'Give my answer');
  await expectText(
    owner,
    'Thank you',
    'a faint edge along the seam in low sun',
    'Orrin Vasek, vehicle’s owner',
  );
  await expectWellMade(owner, 'owner-link-5-copy');
  await owner.reload();
  await expectText(owner, 'Keep a copy');
  expect(await owner.locator('form').count()).toBe(0);

  const office = await inBrowser.signedIn(business.emailOf('office'), business.password, {
    width: 1280,
    height: 900,
  });
  await office.goto(`${inBrowser.address}/office/work-orders/${workOrderId}`);
  await expectText(
    office,
    'accepted with a remark',
    'link given to Tobias Wrenfield to pass on to 212-555-0142',
  );
  await expectWellMade(office, 'owner-link-6-office');
});

async function drawSignature(page: Awaited<ReturnType<InBrowser['visiting']>>): Promise<void> {
  const pad = page.locator('canvas[data-signature]');
  await pad.scrollIntoViewIfNeeded();
  const box = await pad.boundingBox();
  if (box === null) throw new Error('there is nowhere to sign');
  await page.mouse.move(box.x + 20, box.y + 40);
  await page.mouse.down();
  await page.mouse.move(box.x + 90, box.y + 70, { steps: 6 });
  await page.mouse.move(box.x + 160, box.y + 30, { steps: 6 });
  await page.mouse.up();
}
