import { readFile } from 'node:fs/promises';
import { Readable } from 'node:stream';
import type { LineId, PhotoId, WorkOrderId } from '@grainwright/domain';
import { addPhoto, readMe, readWorkOrder, type WorkOrderView } from '@grainwright/operations';
import type { Page } from 'playwright-core';
import sharp from 'sharp';
import { beforeAll, expect, test } from 'vitest';
import { type CutLine, cutLine } from '../support/cut-line.ts';
import { expectText, expectWellMade } from '../support/in-browser.ts';
import { openWeb } from '../support/web.ts';
import {
  aJpeg,
  finishedLine,
  photographed,
  photoInput,
  startedLine,
  type WorkInHand,
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
import { goTo, phoneOut, sendNow, waiting } from './phone-out.ts';

/** What was done without signal and comes back from the office: it is mended in its place, and nothing signed is lost. */

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

/** A picture out of focus, as the office’s own phone sends one. */
async function blurredOf(workOrderId: WorkOrderId, lineId: LineId): Promise<PhotoId> {
  const bytes = await sharp(await aJpeg())
    .resize(1280, 960)
    .blur(20)
    .jpeg()
    .toBuffer();
  const input = { ...photoInput(glass, bytes, { workOrderId, lineId, purpose: 'progress' }) };
  const sent = { ...input, stream: Readable.from([bytes]) };
  return must(await addPhoto(world.services, business.technician, sent)).photoId;
}

async function accept(page: Page, name: string): Promise<void> {
  await page.getByLabel('Accepted', { exact: true }).check();
  await sign(page, name);
  await page.getByLabel(/I give this answer myself/).check();
  await page.getByRole('button', { name: 'Give my answer' }).click();
  await expectText(page, 'Kept on this phone', name);
}

test('a photo that may not do is asked about without signal, and an end of work that comes back is mended in its place', {
  timeout: 180_000,
}, async () => {
  const work = await startedLine(glass);
  await photographed(glass, work.workOrderId, work.lineId, 'after_heat');
  const out = await open();
  const { page } = out;
  await line.cut();
  await goTo(out, `${pathOf(work)}/photos?line_id=${work.lineId}&purpose=after`);
  const small = await sharp(await aJpeg())
    .resize(320, 240)
    .jpeg()
    .toBuffer();
  const heic = Buffer.from('\0\0\0\x18ftypheic\0\0\0\0mif1heic', 'latin1');
  const field = page.getByLabel('Photo', { exact: true });
  await field.setInputFiles({ name: 'IMG_1.HEIC', mimeType: 'image/heic', buffer: heic });
  await expectText(page, 'choose “Most Compatible” (JPEG) and take it again', '2 photos kept');
  await field.setInputFiles({ name: 'after.jpg', mimeType: 'image/jpeg', buffer: small });
  await expectText(page, 'This photo has only 320 × 240 pixels', '3 photos kept');
  await goTo(out, `${pathOf(work)}/finish`);
  await page.getByRole('button', { name: 'Finish work' }).click();
  await expectText(page, 'One thing to correct', 'Look at these photos again');
  await page.getByLabel('Keep it, because …').fill('The ruler can be read.');
  await expectWellMade(page, 'no-signal-finish-warned');
  await page.getByRole('button', { name: 'Finish work' }).click();
  await page.getByRole('heading', { name: 'Please look at the repair' }).waitFor();
  await accept(page, 'Elowen Tarrish');

  await blurredOf(work.workOrderId, work.lineId);
  await line.mend();
  await sendNow(out);
  await expectText(page, 'End of work: not taken', 'This photo looks blurred.', 'Acceptance');
  await expectWellMade(page, 'no-signal-finish-refused');
  await page.getByRole('link', { name: 'See it on the server' }).click();
  await page.getByText('in work').first().waitFor();
  expect(new URL(page.url()).search).toBe('?see=server');
  await goTo(out, waiting);
  await page.getByRole('link', { name: 'Mend it and send it' }).click();
  await expectText(page, 'This photo looks blurred.', 'Somebody has signed already');
  const reasons = page.getByLabel('Keep it, because …');
  await expect.poll(() => reasons.count()).toBe(2);
  for (const reason of await reasons.all())
    if ((await reason.inputValue()) === '') await reason.fill('Only to show where it was cut.');
  await expectWellMade(page, 'no-signal-finish-mended');
  await page.getByRole('button', { name: 'Finish work' }).click();
  await expectText(page, 'Nothing waits', 'All that you did on this phone has reached the office.');
  expect(await viewOf(work)).toMatchObject({
    state: 'accepted',
    acceptance: { signerName: 'Elowen Tarrish' },
    warnedPhotos: [
      { override: { reason: expect.any(String) } },
      { override: { reason: expect.any(String) } },
    ],
  });
});

test('a signature that looks like the payer’s is mended with a reason, and stays as it was drawn', {
  timeout: 120_000,
}, async () => {
  const work = await finishedLine(glass);
  const { name } = must(await readMe(world.services, glass.approver));
  const out = await open();
  const { page } = out;
  await line.cut();
  await goTo(out, `${pathOf(work)}/acceptance`);
  await page.getByLabel('Your e-mail address').fill('ann@gmail');
  await page.getByLabel('Accepted', { exact: true }).check();
  await sign(page, name);
  await page.getByLabel(/I give this answer myself/).check();
  await page.getByRole('button', { name: 'Give my answer' }).click();
  await expectText(page, '“ann@gmail” is not an e-mail address.');
  await page.getByLabel('Your e-mail address').fill('');
  await page.getByRole('button', { name: 'Give my answer' }).click();
  await expectText(page, 'Kept on this phone', name);
  await line.mend();
  await sendNow(out);
  await expectText(page, 'Acceptance: not taken', `${name} signed as the vehicle’s owner`);
  await page.getByRole('link', { name: 'Mend it and send it' }).click();
  await expectText(page, 'What was signed stays as it was signed.');
  await expectWellMade(page, 'no-signal-acceptance-mended');
  await page.getByLabel('Why the signature is right as it is').fill('It is her own vehicle.');
  await page.getByRole('button', { name: 'Send the acceptance' }).click();
  await expectText(page, 'Nothing waits', 'All that you did on this phone has reached the office.');
  expect(await viewOf(work)).toMatchObject({ state: 'accepted', acceptance: { signerName: name } });
});

test('a signature that can’t be taken any more is opened as a note, saved as a file, and removed after a question', {
  timeout: 120_000,
}, async () => {
  const work = await finishedLine(glass);
  const out = await open();
  const { page } = out;
  await line.cut();
  await goTo(out, `${pathOf(work)}/acceptance`);
  await accept(page, 'Elowen Tarrish');
  await photographed(glass, work.workOrderId, work.lineId, 'after');
  await line.mend();
  await sendNow(out);
  await page.getByRole('button', { name: 'Do not send it; keep it as a note' }).click();
  await page.getByRole('link', { name: 'Open the note' }).click();
  await expectText(page, 'Elowen Tarrish', 'The work or its pictures have changed');
  await page.getByRole('img', { name: 'The signature as it was drawn' }).waitFor();
  await page.getByText('The text that was signed').click();
  await expectText(page, 'acceptance-shown-2');
  await expectWellMade(page, 'no-signal-note');
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Save a copy' }).click(),
  ]);
  const saved: unknown = JSON.parse(await readFile(await download.path(), 'utf8'));
  expect(saved).toMatchObject({
    kind: 'acceptance',
    body: { signer_name: 'Elowen Tarrish', signature: { kind: 'drawn' } },
  });
  await page.getByRole('link', { name: 'Remove it' }).click();
  await expectText(page, 'Remove it from this phone for good?');
  await expectWellMade(page, 'no-signal-note-removed');
  await page.getByRole('button', { name: 'Remove it for good' }).click();
  await expectText(page, 'Nothing waits');
  expect(await page.locator('body').innerText()).not.toContain('kept as notes');
});
