import type { StandingApprovalId } from '@grainwright/domain';
import {
  listWorkOrders,
  readWorkOrder,
  setStandingApproval,
  voidWorkOrder,
  type WorkOrderView,
} from '@grainwright/operations';
import { beforeAll, expect, test } from 'vitest';
import { type CutLine, cutLine } from '../support/cut-line.ts';
import { desk, expectText, expectWellMade, phone, press } from '../support/in-browser.ts';
import { openWeb } from '../support/web.ts';
import { aBusiness, anAccount, type Business, must, openWorld, type World } from '../support/world.ts';
import {
  accept,
  addLine,
  goTo,
  type PhoneOut,
  phoneOut,
  sendNow,
  signIn,
  signOut,
  takeAnother,
  takePhoto,
  waiting,
  writeUp,
} from './phone-out.ts';

/**
 * The cut in the tailgate lining again, beside a vehicle where there is no signal: written up, photographed, started,
 * finished and accepted on the phone alone, which is ended in between, as phones do.
 */

let world: World;
let business: Business;
let line: CutLine;

beforeAll(async () => {
  world = await openWorld();
  business = await aBusiness(world);
  const glass = await anAccount(business, { ownNumberKind: 'job', ownNumberRequired: true });
  world.at('2026-08-05T10:00');
  must(
    await setStandingApproval(world.services, business.office, {
      id: world.newId<StandingApprovalId>(),
      accountId: glass.id,
      perVehicle: '350.00',
      perVisit: null,
      perMonth: null,
      validFrom: '2026-08-01',
      validTo: null,
      text: 'agreed by phone',
    }),
  );
  line = await cutLine(await (await openWeb(world)).listen());
});

const open = () => phoneOut({ line, business, now: '2026-08-05T15:00:00Z' });

test('a whole visit without signal is kept through the end of the app and arrives exactly once', {
  timeout: 240_000,
}, async () => {
  const out = await open();
  await line.cut();
  await out.page.getByRole('link', { name: 'Write up a vehicle' }).click();
  await writeUp(out.page, { vin: '0VEEA2C45SK000104', job: 'BG-9107' });
  await addLine(out.page, 'Cut or tear', /^Vinyl cut or tear/, '2.2');
  const shots = [await takePhoto(out.page, 'before', 1)];
  await out.page.getByRole('link', { name: 'Back to the work order' }).first().click();
  const address = new URL(out.page.url()).pathname;
  await expectText(
    out.page,
    'Number comes when sent',
    'No signal: kept on this phone',
    'up to $350.00 a vehicle',
  );
  await expectWellMade(out.page, 'no-signal-1');

  await out.endAndOpen();
  const { page } = out;
  await goTo(out, address);
  await expectText(page, '2025 Ostra Vela', 'Not sent yet');
  await page.getByRole('button', { name: 'Go on: agreed beforehand' }).click();
  await page.getByRole('link', { name: 'Start: read the cautions' }).click();
  await expectText(page, 'Before you start');
  for (const box of await page.locator('#start input[name="acknowledge"]').all()) await box.check();
  await page.getByRole('button', { name: 'Start work' }).click();
  await expectText(page, 'in work');
  shots.push(await takeAnother(page, 'After heat', 2), await takeAnother(page, 'After', 3));
  await goTo(out, `${address}/finish`);
  await page.getByLabel('Layers put on').fill('3');
  await page.getByRole('button', { name: 'Finish work' }).click();
  await accept(page);
  await goTo(out, waiting);
  await expectText(page, '3 photos and 6 other things', 'Acceptance');
  await expectWellMade(page, 'no-signal-2');

  // The session has ended meanwhile, so the same person signs in again.
  await out.forgetSession();
  await line.mend();
  await press(page, 'Send now');
  await expectText(page, 'Sign in again to send');
  // The line breaks off in the middle of a photo; the next try goes on from there.
  line.breakAfter(200_000);
  await signIn(out, 'technician');
  await goTo(out, waiting);
  // Two windows send at the same time.
  const other = await out.openWindow();
  await other.goto(`${line.address}${waiting}`);
  await Promise.all([page, other].map((each) => press(each, 'Send now')));
  await expectText(page, 'Nothing waits');
  await other.close();
  const view = first(await workOrdersOf('BG-9107'));
  expect(view.state).toBe('accepted');
  expect(view.lines).toHaveLength(1);
  expect(view.photos.map(({ sha256 }) => sha256).toSorted()).toEqual(shots.toSorted());
  expect(view.acceptance).toMatchObject({
    outcome: 'accepted',
    signerName: 'Elowen Tarrish',
    method: 'drawn',
  });
  await goTo(out, address);
  await expectText(page, `WO-${view.number}`, '$');
});

test('what the office decided meanwhile stands beside what the phone did, and a person chooses', {
  timeout: 120_000,
}, async () => {
  const out = await open();
  const { page } = out;
  await goTo(out, '/field/write-up');
  // The service’s own page is open and filled in when the signal goes: what is sent then is kept as well.
  await writeUp(page, { vin: 'SK000105', job: 'BG-9108' }, () => line.cut());
  await addLine(page, 'Cut or tear', /^Vinyl cut or tear/, '1.4');
  await takePhoto(page, 'before', 11);
  const address = new URL(page.url()).pathname.replace(/\/photos$/, '');
  await goTo(out, address);
  await page.getByRole('button', { name: 'Go on: agreed beforehand' }).click();
  await page.getByRole('link', { name: 'Start: read the cautions' }).waitFor();
  // What the phone can’t know: the write-up comes through, and the office finds that the car is not theirs to do.
  line.breakOn('/estimate ');
  await line.mend();
  await sendNow(out);
  const isThere = async () => (await workOrdersOf('BG-9108'))[0];
  await expect.poll(async () => (await isThere())?.photos.length, { timeout: 20_000 }).toBe(1);
  const input = {
    workOrderId: first(await workOrdersOf('BG-9108')).id,
    reason: 'other' as const,
    note: 'Done by another shop',
    duplicateOfId: null,
  };
  must(await voidWorkOrder(world.services, business.office, input));
  line.breakOn(null);
  await press(page, 'Send now');
  await expectText(page, 'Estimate: not taken', 'On this phone', 'In the office now', 'Done by another shop');
  await expectWellMade(page, 'no-signal-4');
  await page.setViewportSize(desk);
  await expectWellMade(page, 'no-signal-5');
  await page.setViewportSize(phone);
  await page.getByRole('button', { name: 'Do not send it; keep it as a note' }).click();
  await expectText(page, 'Nothing waits', 'Not sent, kept as notes');
  expect(await isThere()).toMatchObject({ state: 'void' });
});

test('signing out keeps what is unsent for the same person, and nobody else sends it', {
  timeout: 120_000,
}, async () => {
  const out = await open();
  const { page } = out;
  line.breakOn('/api/v1/work-orders');
  await line.cut();
  await goTo(out, '/field/write-up');
  await writeUp(page, { vin: 'SK000106', job: 'BG-9109' });
  await line.mend();
  await goTo(out, '/field');
  await expectText(page, '1 thing');
  expect(await signOutAsked(out)).toContain('1 thing not sent yet. They stay on this phone for you');
  line.breakOn(null);
  await signIn(out, 'office');
  await sendNow(out);
  await expectText(page, 'Nothing waits');
  expect(await workOrdersOf('BG-9109')).toEqual([]);
  await goTo(out, '/field');
  await signOut(out);
  await signIn(out, 'technician');
  await expect.poll(async () => (await workOrdersOf('BG-9109')).length, { timeout: 20_000 }).toBe(1);
});

/** Signs out, and answers with what was asked before. */
async function signOutAsked(out: PhoneOut): Promise<string> {
  let asked = '';
  out.page.once('dialog', (dialog) => {
    asked = dialog.message();
    return dialog.accept();
  });
  await signOut(out);
  return asked;
}

function first(views: readonly WorkOrderView[]): WorkOrderView {
  const [view] = views;
  if (view === undefined) throw new Error('there is no work order');
  return view;
}

/** Of that job number. */
async function workOrdersOf(job: string): Promise<readonly WorkOrderView[]> {
  const { services } = world;
  const { rows } = must(await listWorkOrders(services, business.office, { text: job }));
  return Promise.all(rows.map(async ({ id }) => must(await readWorkOrder(services, business.office, id))));
}
