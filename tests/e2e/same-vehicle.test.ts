import type { LineId } from '@grainwright/domain';
import { addLine, readWorkOrder } from '@grainwright/operations';
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
import { aLine, writtenUp } from '../support/write-ups.ts';

let world: World;
let business: Business;
let lot: Account;
let site: InBrowser;

beforeAll(async () => {
  world = await openWorld();
  business = await aBusiness(world);
  lot = await anAccount(business, { name: 'Penny Lantern Autos', ownNumberKind: 'stock', photoRule: 'lot' });
  site = await openBrowser(await openWeb(world));
});

// Common practice, no source: 30 days, and every target of a field page at least 48 px high.
test('a vehicle that comes again is offered by its number, then laid beside its earlier work order', async () => {
  world.at('2026-08-03T09:00');
  const first = await writtenUp(lot, { ownNumber: 'PL-220', lastEight: 'SR220001' });
  const line = aLine({ part: 'carpet', damage: 'burn', family: 'Carpet burn', measuredInches: '1.5' });
  must(
    await addLine(world.services, business.technician, {
      workOrderId: first,
      lineId: world.newId<LineId>(),
      line,
    }),
  );
  world.at('2026-08-21T09:00');
  const page = await site.signedIn(business.emailOf('technician'), business.password, phone);
  await page.goto(`${site.address}/field/write-up?place=${lot.id}.${lot.siteId}&day=2026-08-21`);
  expect(await page.getByLabel('Make').isVisible()).toBe(false);
  await page.getByLabel('Stock number').fill('PL-220');
  await press(page, 'Write it up');
  await expectText(page, 'Is it this one?', 'VIN ending in SR220001', 'No, another vehicle');
  await expectWellMade(page, 'same-vehicle-offered');
  await press(page, 'Write it up');
  await expectText(page, 'Side by side', 'Typed just now', 'Burn, carpet');
  await expectWellMade(page, 'same-vehicle-beside');
  const small = await page
    .locator('main a.button, main button, main summary, .check')
    .evaluateAll((targets) =>
      targets
        .filter((target) => target.getClientRects().length > 0 && target.getBoundingClientRect().height < 48)
        .map((target) => target.textContent),
    );
  expect(small).toEqual([]);
  await page.getByLabel('It is another damage: write it up').check();
  await press(page, 'Write it up');
  await expectText(page, 'What is wrong, and where?');
  await expectWellMade(page, 'same-vehicle-first-line');
  await follow(page, 'Back to the work order');
  const id = /work-orders\/([^/?]+)/.exec(page.url())?.[1];
  const view = must(await readWorkOrder(world.services, business.technician, first));
  expect(id).not.toBe(first);
  await expectText(page, `WO-${view.number}`);
});
