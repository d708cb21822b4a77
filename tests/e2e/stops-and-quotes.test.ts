import type { LineId, QuoteId, SiteId, VisitId, WorkOrderId } from '@grainwright/domain';
import { addLine, addSite, giveQuote } from '@grainwright/operations';
import { beforeAll, expect, test } from 'vitest';
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
import { openWeb } from '../support/web.ts';
import { cutLining, finishedLine, startedLine, writtenUpLine } from '../support/work-in-hand.ts';
import {
  type Account,
  aBusiness,
  anAccount,
  type Business,
  must,
  openWorld,
  type World,
} from '../support/world.ts';
import { writtenUp } from '../support/write-ups.ts';

let world: World;
let business: Business;
let glass: Account;
let inBrowser: InBrowser;

beforeAll(async () => {
  world = await openWorld();
  business = await aBusiness(world);
  glass = await anAccount(business, { limit: null });
  inBrowser = await openBrowser(await openWeb(world));
});

const signedIn = (who: string, at: typeof phone) =>
  inBrowser.signedIn(business.emailOf(who), business.password, at);

test('the heat test is guided, big enough for a thumb, and well made on a phone', async () => {
  const page = await signedIn('technician', phone);
  const workOrderId = await writtenUp(glass);
  await page.goto(`${inBrowser.address}/field/work-orders/${workOrderId}/lines/new`);
  await expectWellMade(page, 'line-1-damage');
  await page.getByLabel('Part', { exact: true }).selectOption({ label: 'Quarter trim' });
  await page.getByLabel('Damage', { exact: true }).selectOption({ label: 'Burn' });
  await press(page, 'Go on: what it is made of');
  await expectWellMade(page, 'line-2-material');
  for (const button of await page.locator('.choice').all()) {
    const box = await button.boundingBox();
    expect(box?.height ?? 0).toBeGreaterThanOrEqual(48);
  }
  await press(page, 'It shrinks, and the hole grows');
  await expectText(page, 'Likely unbacked vinyl', 'It shrinks, and the hole grows');
  await expectWellMade(page, 'line-3-repair');
  await page.getByText('It is something else').click();
  await page.getByLabel('It is', { exact: true }).selectOption({ label: 'Foam-backed vinyl' });
  await page.getByLabel('Because').fill('the label under it says so');
  await press(page, 'Show the methods for that');
  await expectText(page, 'Foam-backed vinyl, in your judgment', 'the label under it says so');
  await expectWellMade(page, 'line-4-overruled');
});

test('the quote for a new part is asked for where it is missing, and the last one is one tap away', async () => {
  const page = await signedIn('technician', phone);
  const first = await aCut();
  const path = `${inBrowser.address}/field/work-orders`;
  const fitted = { partPrice: '742.00', fittingHours: '1.2', hourlyRate: '165.00', amount: '' };
  const quote = {
    workOrderId: first,
    part: 'tailgate_lining',
    side: '',
    note: 'Parts counter',
    takenFromId: null,
  };
  must(
    await giveQuote(world.services, business.technician, { id: world.newId<QuoteId>(), ...quote, ...fitted }),
  );
  await page.goto(`${path}/${first}/quotes`);
  await expectWellMade(page, 'quotes-given');
  const next = await aCut();
  await page.goto(`${path}/${next}`);
  await expectWellMade(page, 'work-order-asks-for-quote');
  await follow(page, 'Quote: Tailgate lining');
  await expectWellMade(page, 'quotes-asked');
  await press(page, /^Last time: \$940\.00 on /);
  await expectText(page, '$940.00', 'less, 77.6 %');
});

test('stops are put in order by thumb, and each tells what is left to do', async () => {
  await writtenUpLine(glass);
  await startedLine(glass);
  await finishedLine(glass);
  const site = {
    id: world.newId<SiteId>(),
    accountId: glass.id,
    name: 'North yard',
    address: '9 Mill Lane',
    miles: '3',
  };
  must(await addSite(world.services, business.office, site));
  await writtenUp(glass, { siteId: site.id, visitId: world.newId<VisitId>() });
  const page = await signedIn('technician', phone);
  await page.goto(`${inBrowser.address}/field`);
  await expectText(page, '1 to accept', 'North yard');
  await expectWellMade(page, 'today');
  await page
    .getByRole('button', { name: /^Later/ })
    .first()
    .click();
  await expect.poll(() => page.getByRole('heading', { level: 2 }).allInnerTexts()).toHaveLength(2);
  const places = await page.locator('section p.hint').allInnerTexts();
  expect(places.find((words) => words.includes('yard') || words.includes('Yard'))).toContain('North yard');
  await page
    .getByRole('link', { name: /^Open the stop/ })
    .last()
    .click();
  await expectText(page, 'Hand over for acceptance', 'Next vehicle here');
  await expectWellMade(page, 'stop');
  const office = await signedIn('office', desk);
  await office.goto(`${inBrowser.address}/office/stops`);
  await expectText(office, 'Tobias Wrenfield', 'North yard');
  await expectText(office, 'Plan a stop');
  await expectWellMade(office, 'office-stops');
});

async function aCut(): Promise<WorkOrderId> {
  const workOrderId = await writtenUp(glass, { model: 'Quoted' });
  const lineId = world.newId<LineId>();
  must(await addLine(world.services, business.technician, { lineId, workOrderId, line: cutLining }));
  return workOrderId;
}
