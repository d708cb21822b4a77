import { readWorkOrder, type WorkOrderView } from '@grainwright/operations';
import { beforeAll, expect, test } from 'vitest';
import { type CutLine, cutLine } from '../support/cut-line.ts';
import { expectText, expectWellMade } from '../support/in-browser.ts';
import { openWeb } from '../support/web.ts';
import {
  approvedLine,
  finishedLine,
  photographed,
  type WorkInHand,
  writtenUpLine,
} from '../support/work-in-hand.ts';
import {
  type Account,
  aBusiness,
  anAccount,
  type Business,
  must,
  openWorld,
  type World,
} from '../support/world.ts';
import { sign } from './at-the-vehicle.ts';
import { addLine, goTo, phoneOut, sendNow, signIn, takePhoto, waiting, writeUp } from './phone-out.ts';
import { tailgatePhoto } from './pictures.ts';

/** What people answer and technicians note where there is no signal, and what comes of it when there is. */

let world: World;
let business: Business;
let glass: Account;
let line: CutLine;

beforeAll(async () => {
  world = await openWorld();
  business = await aBusiness(world);
  glass = await anAccount(business, { limit: null, ownNumberKind: 'job' });
  world.at('2026-08-05T10:00');
  line = await cutLine(await (await openWeb(world)).listen());
});

const open = () => phoneOut({ line, business, now: '2026-08-05T15:00:00Z' });
const pathOf = ({ workOrderId }: WorkInHand) => `/field/work-orders/${workOrderId}`;
const viewOf = async ({ workOrderId }: WorkInHand): Promise<WorkOrderView> =>
  must(await readWorkOrder(world.services, business.office, workOrderId));

test('an owner who does not accept says why and signs; the work goes on from there', async () => {
  const work = await finishedLine(glass);
  const out = await open();
  const { page } = out;
  await line.cut();
  await goTo(out, `${pathOf(work)}/acceptance`);
  await page.getByLabel('Not accepted', { exact: true }).check();
  await page.getByRole('textbox', { name: 'Remark' }).fill('The grain is smooth at the lower end');
  await sign(page, 'Elowen Tarrish');
  await page.getByLabel(/I give this answer myself/).check();
  await expectWellMade(page, 'no-signal-refusal');
  await page.getByRole('button', { name: 'Give my answer' }).click();
  await expectText(page, 'Your answer is kept', 'Elowen Tarrish');
  await page.getByRole('link', { name: 'Hand the phone back' }).click();
  await expectText(page, 'Not accepted', 'Put it right, take a new picture, and ask again.');
  await line.mend();
  await sendNow(out);
  await expectText(page, 'Nothing waits');
  expect(await viewOf(work)).toMatchObject({
    state: 'done',
    acceptance: {
      outcome: 'not_accepted',
      remark: 'The grain is smooth at the lower end',
      signerName: 'Elowen Tarrish',
    },
  });
});

test('that nobody was there to sign is noted with a witness, and the work stays unaccepted', async () => {
  const work = await finishedLine(glass);
  const out = await open();
  const { page } = out;
  await line.cut();
  await goTo(out, `${pathOf(work)}/not-signed`);
  await page.getByRole('radio').first().check();
  await page.getByLabel('Why', { exact: true }).fill('Picked up by the night driver');
  await page.getByRole('button', { name: 'Keep this on record' }).click();
  await expectText(page, 'Who else saw it');
  await page.getByLabel('Who else saw it').fill('Rosalind Amberley');
  await expectWellMade(page, 'no-signal-nobody');
  await page.getByRole('button', { name: 'Keep this on record' }).click();
  await expectText(page, 'Nobody signed');
  await line.mend();
  await sendNow(out);
  await expectText(page, 'Nothing waits');
  expect(await viewOf(work)).toMatchObject({
    state: 'done',
    acceptance: null,
    notSigned: [{ reason: 'Picked up by the night driver', witness: 'Rosalind Amberley' }],
  });
});

test('what a new part would cost is noted on the part', async () => {
  const work = await writtenUpLine(glass);
  const out = await open();
  const { page } = out;
  await line.cut();
  await goTo(out, `${pathOf(work)}/quotes`);
  await page.getByLabel('Part and labor').fill('1,180.5.0');
  await page.getByRole('button', { name: 'Keep the quote' }).click();
  await expectText(page, '“1,180.5.0” is not an amount.');
  await page.getByLabel('Part and labor').fill('1180.50');
  await page.getByLabel('Who quoted it').fill('Parts counter');
  await expectWellMade(page, 'no-signal-quote');
  await page.getByRole('button', { name: 'Keep the quote' }).click();
  await page.getByRole('link', { name: 'Quote for a new part' }).waitFor();
  await line.mend();
  await sendNow(out);
  await expectText(page, 'Nothing waits');
  expect((await viewOf(work)).quotes).toMatchObject([{ amountMinor: 118_050n, note: 'Parts counter' }]);
});

test('a walk around the vehicle is recorded without signal and arrives whole', {
  timeout: 120_000,
}, async () => {
  const work = await approvedLine(glass);
  const out = await open();
  const { page } = out;
  await page.context().grantPermissions(['camera', 'microphone']);
  await line.cut();
  await goTo(out, `${pathOf(work)}/walk-around`);
  await page.getByRole('button', { name: 'Start recording' }).click();
  await expectText(page, 'Recording 0:02 of 2:00');
  await page.getByRole('button', { name: 'Stop and keep it' }).click();
  await expectText(page, 'Kept on this phone, waiting for signal.', '1 recording waiting for signal.');
  await expectWellMade(page, 'no-signal-walk-around');
  await line.mend();
  await sendNow(out);
  await expectText(page, 'Nothing waits');
  const [recording, ...more] = (await viewOf(work)).recordings;
  expect(more).toEqual([]);
  expect(recording).toMatchObject({ kind: 'walk_around' });
});

test('the same vehicle again within the month is asked about once it is known, and sent as another damage', {
  timeout: 120_000,
}, async () => {
  const out = await open();
  const { page } = out;
  for (const job of ['BG-9201', 'BG-9202']) {
    await line.cut();
    await goTo(out, '/field/write-up');
    await writeUp(page, { vin: '0VEEA2C45SK000104', job });
    await line.mend();
    await sendNow(out);
    await expectText(page, job === 'BG-9201' ? 'Nothing waits' : 'Write-up: not taken');
  }
  const link = page.getByRole('link', { name: /^Open WO-\d+ on the server$/ });
  const [number = ''] = /WO-\d+/.exec(await link.innerText()) ?? [];
  await expectText(page, 'In the office now', number, 'written up');
  await expectWellMade(page, 'no-signal-twice');
  await link.click();
  await expectText(page, number, 'BG-9201');
  await goTo(out, waiting);
  await page.getByRole('button', { name: 'It is another damage: send it' }).click();
  await expectText(page, 'Nothing waits', 'All that you did on this phone has reached the office.');
});

test('an acceptance of what has changed meanwhile is not taken for one of what is there now', {
  timeout: 120_000,
}, async () => {
  const work = await finishedLine(glass);
  const out = await open();
  const { page } = out;
  await line.cut();
  await goTo(out, `${pathOf(work)}/acceptance`);
  await page.getByLabel('Accepted', { exact: true }).check();
  await sign(page, 'Elowen Tarrish');
  await page.getByLabel(/I give this answer myself/).check();
  await page.getByRole('button', { name: 'Give my answer' }).click();
  await expectText(page, 'Kept on this phone');
  // Another phone of the business has taken one more picture.
  await photographed(glass, work.workOrderId, work.lineId, 'after');
  await line.mend();
  await sendNow(out);
  await expectText(page, 'Acceptance: not taken', 'On this phone', 'In the office now', 'Elowen Tarrish');
  await expectText(page, 'What was signed stays what was shown then.');
  await expectWellMade(page, 'no-signal-shown-changed');
  expect(await viewOf(work)).toMatchObject({ state: 'done', acceptance: null });
  await page.getByRole('button', { name: 'Do not send it; keep it as a note' }).click();
  await expectText(page, 'Not sent, kept as notes');
  await goTo(out, `${pathOf(work)}/acceptance`);
  await expectText(page, 'Please look at the repair');
});

test('a form about what this phone did not take along stays on the page until it can be sent', {
  timeout: 120_000,
}, async () => {
  world.at('2026-08-04T10:00');
  const work = await writtenUpLine(glass);
  world.at('2026-08-05T10:00');
  const out = await open();
  const { page } = out;
  await goTo(out, `${pathOf(work)}/quotes`);
  await page.getByLabel('Part and labor').fill('742.10');
  await line.cut();
  await page.getByRole('button', { name: 'Keep the quote' }).click();
  await expectText(
    page,
    'What you sent needs a signal',
    'It is kept on this phone until it is sent or you throw it away.',
  );
  await expectWellMade(page, 'no-signal-not-used');
  await line.mend();
  await page.getByRole('button', { name: 'Send it again' }).click();
  await expectText(page, '$742.10');
  expect((await viewOf(work)).quotes).toMatchObject([{ amountMinor: 74_210n }]);
});

test('a full phone says so, and what was kept before stays', { timeout: 120_000 }, async () => {
  const out = await open();
  const { page } = out;
  await line.cut();
  await goTo(out, '/field/write-up');
  await writeUp(page, { vin: 'SK000207', job: 'BG-9207' });
  await addLine(page, 'Cut or tear', /^Vinyl cut or tear/, '2.2');
  // As the browser says it; none here can be given a small disk.
  const isFull = await page.evaluateHandle(() => {
    const { put, add } = IDBObjectStore.prototype;
    const full = () => {
      throw new DOMException('The disk is full.', 'QuotaExceededError');
    };
    Object.assign(IDBObjectStore.prototype, { put: full, add: full });
    return { mend: () => Object.assign(IDBObjectStore.prototype, { put, add }) };
  });
  await page.getByLabel('Photo', { exact: true }).setInputFiles(await tailgatePhoto('before', 7));
  await expectText(page, 'This phone has no room for it, so it was not kept.');
  await expectWellMade(page, 'no-signal-full');
  await isFull.evaluate(({ mend }) => void mend());
  await takePhoto(page, 'before', 8);
  await goTo(out, waiting);
  await expectText(page, '1 photo and 2 other things waiting for signal.');
});

test('an app that ends in the middle of a photo on its way sends it once, whole', {
  timeout: 120_000,
}, async () => {
  const work = await writtenUpLine(glass);
  const out = await open();
  await line.cut();
  await goTo(out, `${pathOf(work)}/photos`);
  const digest = await takePhoto(out.page, 'before', 21);
  await line.mend();
  const stalled = line.stallAfter(150_000);
  await sendNow(out);
  await stalled;
  expect((await viewOf(work)).photos).toEqual([]);
  await out.endAndOpen();
  await line.mend();
  // A browser that ends so soon has not written its cookies down.
  await signIn(out, 'technician');
  await sendNow(out);
  await expectText(out.page, 'Nothing waits');
  expect((await viewOf(work)).photos.map(({ sha256 }) => sha256)).toEqual([digest]);
});

test('once all has gone out, today is as the office knows it, and the top of the page says nothing more', {
  timeout: 120_000,
}, async () => {
  const out = await open();
  const { page } = out;
  await line.cut();
  await goTo(out, '/field/write-up');
  await writeUp(page, { vin: '0VEEA2C45SK000301', job: 'BG-9301' });
  await goTo(out, '/field');
  await expectText(page, 'job number BG-9301', 'not sent yet', '1 thing waiting for signal.');
  expect(await page.getByRole('link', { name: 'Day before' }).count()).toBe(0);
  await line.mend();
  // As the browser tells it.
  await page.evaluate(() => window.dispatchEvent(new Event('online')));
  await page.getByRole('link', { name: 'Day before' }).waitFor();
  await expectText(page, 'job number BG-9301');
  await expect.poll(() => page.locator('[data-phone]').innerText()).toBe('');
  expect(await page.locator('body').innerText()).not.toContain('not sent yet');
});

test('a chosen photo that is not kept yet is asked about before the page is left', {
  timeout: 120_000,
}, async () => {
  const work = await writtenUpLine(glass);
  const out = await open();
  const { page } = out;
  await goTo(out, `${pathOf(work)}/photos?choose=yes`);
  await page.getByLabel('Photo', { exact: true }).setInputFiles(await tailgatePhoto('before', 31));
  const asked: string[] = [];
  page.once('dialog', async (dialog) => {
    asked.push(dialog.message());
    await dialog.dismiss();
  });
  const back = page.getByRole('link', { name: 'Back to the work order' }).first();
  await back.click();
  expect(asked).toEqual(['The photo that you chose is not kept yet. Leave without it?']);
  expect(new URL(page.url()).search).toBe('?choose=yes');
  await page.getByRole('radio', { name: 'Before', exact: true }).check();
  await page.getByRole('radio', { name: /tailgate lining/i }).check();
  await page.getByRole('button', { name: 'Keep the photo' }).click();
  await expect.poll(async () => (await viewOf(work)).photos.length).toBe(1);
});

test('a page that is not for the phone is not opened without signal', { timeout: 120_000 }, async () => {
  const work = await writtenUpLine(glass);
  await photographed(glass, work.workOrderId, work.lineId, 'before');
  const out = await open();
  const { page } = out;
  await line.cut();
  await goTo(out, `${pathOf(work)}/photos`);
  const told = page.waitForEvent('dialog').then(async (dialog) => {
    await dialog.accept();
    return dialog.message();
  });
  await page.getByRole('link', { name: /^Cover parts/ }).click();
  expect(await told).toBe('This page needs a signal. Open it again where there is one.');
  await expectText(page, '1 photo kept');
});
