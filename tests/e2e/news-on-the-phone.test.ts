import { type DecisionId, formatMinor } from '@grainwright/domain';
import { decideEstimate, previewDecision, readWorkOrder } from '@grainwright/operations';
import type { Page } from 'playwright-core';
import { beforeAll, expect, test } from 'vitest';
import { type AskedEstimate, answersTo, askedEstimate } from '../support/asked-estimates.ts';
import { expectText, expectWellMade, type InBrowser, openBrowser, phone } from '../support/in-browser.ts';
import { openWeb } from '../support/web.ts';
import { type Account, aBusiness, anAccount, must, openWorld, type World } from '../support/world.ts';

// The technician stands beside the vehicle and looks at the phone; the manager says yes somewhere else.

let world: World;
let browser: InBrowser;
let lot: Account;
let hour = 8;

beforeAll(async () => {
  world = await openWorld();
  world.at('2026-10-06T08:00');
  lot = await anAccount(await aBusiness(world), {
    tierCode: 'lot',
    limit: null,
    certificate: { kind: 'resale', number: 'R-4471', validFrom: '2026-01-01', validTo: null },
  });
  browser = await openBrowser(await openWeb(world));
}, 60_000);

/** The scuff comes to 79.75, an agreed figure of the demo (PL-255), and the trip of one vehicle to 45.00. */
const asked = () => {
  hour += 1;
  world.at(`2026-10-06T${String(hour).padStart(2, '0')}:00`);
  return askedEstimate(lot, [{ part: 'front_door_panel', damage: 'scuff', rateCode: 'SC-M' }]);
};

async function sayYes(estimate: AskedEstimate): Promise<void> {
  const { workOrderId, versionId, digest } = estimate;
  const seen = { workOrderId, versionId, digest, answers: answersTo(estimate) };
  const { totalMinor } = must(await previewDecision(world.services, lot.approver, seen));
  const decision = { ...seen, decisionId: world.newId<DecisionId>(), total: formatMinor(totalMinor, 'USD') };
  must(await decideEstimate(world.services, lot.approver, decision));
}

const stream = /\/field\/news(\?|$)/;
const list = /\/field\/news\.json/;

async function aPhone(prepare: (page: Page) => Promise<unknown> = async () => {}): Promise<Page> {
  const { business } = lot;
  const page = await browser.signedIn(business.emailOf('technician'), business.password, phone);
  await prepare(page);
  return page;
}

/** Opens the work order, and waits until the page listens. */
async function openOn(page: Page, estimate: AskedEstimate, listens: RegExp): Promise<Page> {
  const listening = page.waitForResponse(listens);
  await page.goto(`${browser.address}/field/work-orders/${estimate.workOrderId}`);
  // What a page that loads itself again forgets.
  await page.evaluate(() => document.body.setAttribute('data-same-page', 'yes'));
  await listening;
  return page;
}

async function numberOf({ workOrderId }: AskedEstimate): Promise<string> {
  const { number } = must(await readWorkOrder(world.services, lot.business.technician, workOrderId));
  return `WO-${number}`;
}

const isSamePage = (page: Page) => page.evaluate(() => document.body.dataset.samePage === 'yes');

test('the yes stands on the phone as soon as it is given, without loading the page again, and leads to the work order', async () => {
  const estimate = await asked();
  const page = await openOn(await aPhone(), estimate, stream);
  await sayYes(estimate);
  await expectText(page, `${await numberOf(estimate)} approved: $124.75`);
  expect(await isSamePage(page)).toBe(true);
  await expectWellMade(page, 'news-on-the-phone');
  const news = page.getByRole('status').getByRole('link', { name: /approved: \$124\.75$/ });
  expect((await news.boundingBox())?.height).toBeGreaterThanOrEqual(48);
  await news.click();
  await expectText(page, 'approved, waits for the technician');
  // It is told once, not on every page after it.
  expect(await page.getByRole('status').getByRole('link').count()).toBe(0);
}, 60_000);

test('where the stream is refused the list is asked for again and again, and says the same', async () => {
  const estimate = await asked();
  const refusing = await aPhone((opened) =>
    opened.route(stream, (route) => route.fulfill({ status: 503, body: 'no streams here' })),
  );
  const page = await openOn(refusing, estimate, list);
  await sayYes(estimate);
  await expectText(page, `${await numberOf(estimate)} approved: $124.75`);
  expect(await isSamePage(page)).toBe(true);
}, 60_000);

test('so it is in a browser that has no event streams at all', async () => {
  const estimate = await asked();
  const without = await aPhone((opened) =>
    opened.addInitScript(() => {
      Reflect.deleteProperty(globalThis, 'EventSource');
    }),
  );
  const page = await openOn(without, estimate, list);
  await sayYes(estimate);
  await expectText(page, `${await numberOf(estimate)} approved: $124.75`);
  expect(await isSamePage(page)).toBe(true);
}, 60_000);

test('whoever holds the turned-round phone hears nothing of it', async () => {
  const estimate = await asked();
  const page = await aPhone();
  const turned = await page.goto(`${browser.address}/field/work-orders/${estimate.workOrderId}`);
  expect(await turned?.text()).toContain('data-news="/field/news"');
  const reply = await page.request.get(
    `${browser.address}/field/work-orders/${estimate.workOrderId}/acceptance`,
  );
  expect(await reply.text()).not.toContain('data-news');
}, 60_000);
