import { createHash } from 'node:crypto';
import { Readable } from 'node:stream';
import type { CoveringId, RecordingId, StopPointId, WorkOrderId } from '@grainwright/domain';
import {
  addRecording,
  addStopPoint,
  coverPhoto,
  finishWork,
  withholdRecording,
} from '@grainwright/operations';
import { beforeAll, beforeEach, expect, test } from 'vitest';
import { aFilm } from './support/any-film.ts';
import { billingDesk } from './support/billing-desk.ts';
import { shot, unpacked } from './support/evidence-desk.ts';
import { mediaOf, notesOf, packDesk, type Trade, wordsIn } from './support/pack-desk.ts';
import { oneYear, retentionDesk } from './support/retention-desk.ts';
import { runJobs } from './support/run-jobs.ts';
import { signed } from './support/sealed-work.ts';
import { openWeb } from './support/web.ts';
import { aJpeg, photographed, startedLine } from './support/work-in-hand.ts';
import { must, openWorld, type World } from './support/world.ts';

/** Every way in which pictures and films go missing, as packs and pages tell it, checked by the verifier and the command. */

let world: World;
let packs: ReturnType<typeof packDesk>;

beforeAll(async () => {
  world = await openWorld();
  packs = packDesk(world);
});
beforeEach(() => world.at('2026-08-05T09:00'));

const sha256 = (bytes: Uint8Array | string) => createHash('sha256').update(bytes).digest('hex');

test('pictures that a rule let go of are in no pack; their digests, the day and the rule are', async () => {
  const desk = retentionDesk(world);
  const shop = await desk.paidShop();
  must(await desk.setRule(shop, 'photos', oneYear));
  await desk.switchedOn(shop);
  const before = await packs.bothHold(shop, shop.workOrderId);
  const pictures = Object.entries(unpacked(before.office)).filter(([name]) => name.startsWith('photos/'));
  expect(pictures).toHaveLength(6);
  world.at('2027-08-06T09:00');
  await desk.run(shop);
  await desk.aged();
  const { office, own } = await packs.bothHold(shop, shop.workOrderId);
  for (const pack of [office, own]) {
    expect(Object.keys(unpacked(pack)).filter((name) => name.startsWith('photos/'))).toEqual([]);
    expect(mediaOf(pack).map(({ as, original }) => [as, original])).toEqual(
      pictures.map(([, bytes]) => ['deleted', sha256(bytes)]),
    );
    const words = await wordsIn(pack);
    expect(words).toContain('Deleted on Aug 6, 2027 under the rule that keeps photos for 1 year.');
    for (const [, bytes] of pictures) expect(words).toContain(sha256(bytes));
    expect(await notesOf(pack)).toContain('6 of them are not in the pack itself');
  }
});

test('a film that was kept back is in the business’s pack alone, and its customer’s names the others', async () => {
  const trade = await packs.aTrade();
  const { business, account } = trade;
  const work = await startedLine(account);
  const films = [aFilm(1), aFilm(2)] as const;
  const recordingId = await recorded(trade, work.workOrderId, films[0]);
  await recorded(trade, work.workOrderId, films[1]);
  const id = world.newId<CoveringId>();
  must(
    await withholdRecording(world.services, business.office, { id, recordingId, reason: 'A face in it.' }),
  );
  const { office, own } = await packs.bothHold(trade, work.workOrderId);
  const told = (pack: Buffer) =>
    mediaOf(pack)
      .filter(({ purpose }) => purpose === 'recording')
      .map(({ as, original }) => [as, original]);
  const digests = films.map(sha256);
  expect(told(office)).toEqual(digests.map((digest) => ['original', digest]));
  // Its account knows nothing of one that is kept back.
  expect(told(own)).toEqual([['original', digests[1]]]);
  expect(own.includes(films[0])).toBe(false);
  expect(own.includes(films[1])).toBe(true);
});

async function recorded({ business }: Trade, workOrderId: WorkOrderId, film: Buffer): Promise<RecordingId> {
  const recordingId = world.newId<RecordingId>();
  must(
    await addRecording(world.services, business.technician, {
      ...{ recordingId, workOrderId, capturedAt: null, seconds: 20, poster: await aJpeg() },
      film: { stream: Readable.from([film]), truncated: () => false, bytesMax: 1_000_000 },
      directory: world.objects.temporaryDirectory,
    }),
  );
  return recordingId;
}

test('of a film that a rule let go of, packs and pages keep its digest, the day and the rule, and no player', async () => {
  const trade = await packs.aTrade();
  const { business, account } = trade;
  const work = await startedLine(account);
  const id = work.workOrderId;
  const film = aFilm(3);
  const recordingId = await recorded(trade, id, film);
  await photographed(account, id, work.lineId, 'after_heat');
  await photographed(account, id, work.lineId, 'after');
  must(await finishWork(world.services, business.technician, { workOrderId: id, work: [], overrides: [] }));
  await signed(account, id);
  const bills = billingDesk(business);
  const invoice = must(await bills.issue([{ id }]));
  must(await bills.pay({ account, amount: '211.99', for: [[invoice, '211.99']] }));
  await runJobs(world);
  const desk = retentionDesk(world);
  must(await desk.setRule(trade, 'recordings', oneYear));
  await desk.switchedOn(trade);
  world.at('2027-08-06T09:00');
  await desk.run(trade);
  const { office, own } = await packs.bothHold(trade, id);
  for (const pack of [office, own]) {
    expect(Object.keys(unpacked(pack)).filter((name) => name.startsWith('recordings/'))).toEqual([]);
    expect(mediaOf(pack).filter(({ purpose }) => purpose === 'recording')).toMatchObject([
      { as: 'deleted', file: null, original: sha256(film) },
    ]);
  }
  const web = await openWeb(world);
  const desktop = await web.signInByPage(business.emailOf('office'), business.password);
  const contact = await web.signInByPage(account.emailOf('viewer'), business.password);
  for (const page of [
    await desktop.get(`/office/work-orders/${id}`),
    await desktop.get(`/office/recordings/${recordingId}/withholding`),
    await desktop.get(`/field/work-orders/${id}/walk-around`),
    await contact.get(`/account/work-orders/${id}`),
  ]) {
    expect(page.statusCode).toBe(200);
    expect(page.body).toContain('deleted on Aug 6, 2027 under the rule that keeps recordings for 1 year');
    expect(page.body).toContain(sha256(film));
    expect(page.body).not.toContain(`/recordings/${recordingId}/film`);
    expect(page.body).not.toContain(`/recordings/${recordingId}/poster`);
  }
});

test('a picture with a part covered and one that is not shown hold in the customer’s pack by the seal’s digests', async () => {
  const trade = await packs.aTrade();
  const { business, account } = trade;
  const work = await startedLine(account);
  const covered = await shot(account, work, 'after', await aJpeg());
  const hidden = await aJpeg();
  const photoId = await shot(account, work, 'stop_point', hidden);
  must(
    await addStopPoint(world.services, business.technician, {
      ...{ id: world.newId<StopPointId>(), ...work, photoId },
      ...{ note: 'a faint edge', shown: false },
    }),
  );
  await runJobs(world);
  must(
    await coverPhoto(world.services, business.office, {
      id: world.newId<CoveringId>(),
      photoId: covered,
      regions: [{ kind: 'face', left: 10, top: 10, width: 30, height: 20 }],
      reason: 'A face.',
    }),
  );
  const { office, own } = await packs.bothHold(trade, work.workOrderId);
  expect(mediaOf(own).map(({ purpose, as }) => [purpose, as])).toEqual([
    ['before', 'bare'],
    ['after', 'covered'],
    ['stop_point', 'withheld'],
  ]);
  expect(await notesOf(own)).toContain('photos/02-after.jpg: parts are covered');
  expect(await wordsIn(own)).toContain('Parts covered Aug 5, 2026.');
  expect(await wordsIn(own)).not.toContain('a faint edge');
  expect((await packs.commandSays(own)).words).toContain('parts are covered');
  expect(office.includes(hidden)).toBe(true);
  expect(own.includes(hidden)).toBe(false);
});
