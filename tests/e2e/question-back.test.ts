import { beforeAll, expect, test } from 'vitest';
import { askedEstimate } from '../support/asked-estimates.ts';
import {
  desk,
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
import { cutLining } from '../support/work-in-hand.ts';
import {
  type Account,
  aBusiness,
  anAccount,
  type Business,
  openWorld,
  type World,
} from '../support/world.ts';

/** A question back to the technician from the mail, its answer, and the record of what was approved then. Common practice, no source. */

let world: World;
let business: Business;
let dealer: Account;
let inBrowser: InBrowser;

beforeAll(async () => {
  world = await openWorld();
  business = await aBusiness(world);
  dealer = await anAccount(business, { name: 'Halden Motors', limit: null });
  inBrowser = await openBrowser(await openWeb(world));
});

test('an approver asks from the mail, gets an answer, approves, and the record tells it all', {
  timeout: 240_000,
}, async () => {
  const { workOrderId } = await askedEstimate(dealer, [cutLining], { replacement: '900.00' });
  await runJobs(world);
  const approver = await inBrowser.visiting(phone);
  const link = `${inBrowser.address}${await linkMailedTo(business, dealer.emailOf('approver'))}`;
  await approver.goto(link);
  await approver.getByLabel('A question about this').fill('Does the lining have to come off?');
  await press(approver, 'Send the message');
  await expectText(approver, 'Ansel Corvin, the account', 'Does the lining have to come off?');
  await expectWellMade(approver, 'question-1-asked');

  const technician = await inBrowser.signedIn(business.emailOf('technician'), business.password, phone);
  await expectText(technician, 'Question from the account, unanswered');
  await technician.goto(`${inBrowser.address}/field/work-orders/${workOrderId}/messages`);
  await technician.getByLabel('Your message').fill('No, it stays on. It takes an hour.');
  await expectWellMade(technician, 'question-2-answering');
  await press(technician, 'Send the message');
  await expectText(technician, 'Tobias Wrenfield, the repair business');
  await expectWellMade(technician, 'question-3-answered');

  await runJobs(world);
  await approver.goto(`${inBrowser.address}${await linkMailedTo(business, dealer.emailOf('approver'))}`);
  await expectText(approver, 'No, it stays on. It takes an hour.');
  await press(approver, 'See the new total');
  await press(approver, /^Approve/);
  await expectText(approver, 'Answered: approved');

  const office = await inBrowser.signedIn(business.emailOf('office'), business.password, desk);
  await office.goto(`${inBrowser.address}/office/work-orders/${workOrderId}`);
  await follow(office, 'The answer on record, with what was seen');
  await expectText(
    office,
    'Matches',
    'Ansel Corvin, by the link in the mail',
    'quoted at $900.00',
    'Version 1',
  );
  await expectWellMade(office, 'question-4-record');
  const contact = await inBrowser.signedIn(dealer.emailOf('viewer'), business.password, phone);
  await contact.goto(office.url().replace('/office/', '/account/'));
  await expectText(contact, 'Matches', 'Ansel Corvin, by the link in the mail');
  await expectWellMade(contact, 'question-5-record-on-the-phone');
  expect(await contact.getByText('Does not match').count()).toBe(0);
});
