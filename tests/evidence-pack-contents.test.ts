import { createHash } from 'node:crypto';
import { Readable } from 'node:stream';
import type { CoveringId, RecordingId, SigningKeyId, StopPointId, WorkOrderId } from '@grainwright/domain';
import { makeBareCopy } from '@grainwright/evidence';
import {
  addRecording,
  addStopPoint,
  closeSealDays,
  coverPhoto,
  rotateSealKey,
  sealRecords,
} from '@grainwright/operations';
import { beforeAll, expect, test } from 'vitest';
import { aFilm, filmPlace } from './support/any-film.ts';
import { faultsOf, jsonIn, packOf, reportOf, shot, unpacked, withPlace } from './support/evidence-desk.ts';
import { runJobs } from './support/run-jobs.ts';
import { aJpeg, approvedLine, startedLine } from './support/work-in-hand.ts';
import {
  type Account,
  aBusiness,
  anAccount,
  type Business,
  must,
  openWorld,
  type World,
} from './support/world.ts';

let world: World;
let business: Business;
let installer: Account;
let id: WorkOrderId;
/** A picture of a stop point that is not shown. */
let hidden: Buffer;
let office: Buffer;
let own: Buffer;

const film = () => aFilm(3, filmPlace());

async function recorded(workOrderId: WorkOrderId, bytes: Buffer): Promise<void> {
  must(
    await addRecording(world.services, business.technician, {
      recordingId: world.newId<RecordingId>(),
      workOrderId,
      capturedAt: null,
      seconds: 20,
      poster: withPlace(await aJpeg()),
      film: { stream: Readable.from([bytes]), truncated: () => false, bytesMax: 1_000_000 },
      directory: world.objects.temporaryDirectory,
    }),
  );
}

/** A picture with a plate covered, one that stays with the staff, and a film that says where it was made, sealed by one key; then another key follows. */
beforeAll(async () => {
  world = await openWorld();
  business = await aBusiness(world);
  installer = await anAccount(business, { limit: null });
  const work = await startedLine(installer);
  id = work.workOrderId;
  const photoId = await shot(installer, work, 'after', withPlace(await aJpeg()));
  await recorded(id, film());
  hidden = withPlace(await aJpeg());
  must(
    await addStopPoint(world.services, business.technician, {
      id: world.newId<StopPointId>(),
      ...work,
      photoId: await shot(installer, work, 'stop_point', hidden),
      note: 'a faint edge along the lower seam',
      shown: false,
    }),
  );
  await runJobs(world);
  must(
    await coverPhoto(world.services, business.office, {
      id: world.newId<CoveringId>(),
      photoId,
      regions: [{ kind: 'plate', left: 10, top: 10, width: 30, height: 20 }],
      reason: 'A license plate.',
    }),
  );
  await runJobs(world);
  world.at('2026-08-06T09:00');
  must(await closeSealDays(world.services, business.tenantId));
  must(await rotateSealKey(world.services, business.owner, world.newId<SigningKeyId>()));
  must(await sealRecords(world.services, business.tenantId));
  world.at('2026-08-07T09:00');
  // Something else is sealed with the new key, and its day is closed.
  await approvedLine(installer);
  await runJobs(world);
  world.at('2026-08-08T09:00');
  must(await closeSealDays(world.services, business.tenantId));
  office = await packOf(world, business.office, id);
  own = await packOf(world, installer.payer, id);
});

const sha256 = (bytes: Uint8Array | undefined) =>
  createHash('sha256')
    .update(bytes ?? '')
    .digest('hex');
const mediaOf = (pack: Buffer): Record<string, string | null>[] =>
  jsonIn(unpacked(pack), 'manifest.json').media;

test('the customer’s pack has the covered copy and names the original by its digest; the business has the original', () => {
  const [inOffice, inOwn] = [office, own].map((pack) =>
    mediaOf(pack).find(({ purpose }) => purpose === 'after'),
  );
  expect(inOffice).toMatchObject({ as: 'original', file: 'photos/02-after.jpg' });
  expect(inOwn).toMatchObject({ as: 'covered', file: 'photos/02-after.jpg', original: inOffice?.original });
  expect(sha256(unpacked(office)['photos/02-after.jpg'])).toBe(inOffice?.original);
  expect(sha256(unpacked(own)['photos/02-after.jpg'])).not.toBe(inOffice?.original);
});

test('a picture of a stop point that is not shown is named in the customer’s pack, and neither there nor in its document', async () => {
  const bare = sha256(await makeBareCopy(hidden));
  const about = { purpose: 'stop_point', original: sha256(hidden) };
  expect(mediaOf(office)).toContainEqual(expect.objectContaining({ ...about, as: 'original' }));
  expect(mediaOf(own)).toContainEqual(expect.objectContaining({ ...about, as: 'withheld', file: null }));
  const digests = Object.values(unpacked(own)).map(sha256);
  expect(digests).not.toContain(bare);
  expect(digests).not.toContain(sha256(hidden));
  expect(sha256(unpacked(office)['photos/03-stop-point.jpg'])).toBe(sha256(hidden));
  const [inOffice = 0, inOwn = 0] = [office, own].map(
    (pack) =>
      Buffer.from(unpacked(pack)['evidence.pdf'] ?? [])
        .toString('latin1')
        .split('/Subtype /Image').length,
  );
  expect(inOwn).toBe(inOffice - 1);
});

test('a film that says where it was made is in the business’s pack alone; the customer has its picture and its digest', () => {
  const name = 'recordings/01-walk-around';
  expect(sha256(unpacked(office)[`${name}.mp4`])).toBe(sha256(film()));
  expect(unpacked(own)).not.toHaveProperty([`${name}.mp4`]);
  expect(unpacked(own)).toHaveProperty([`${name}-poster.jpg`]);
  expect(mediaOf(own)).toContainEqual(
    expect.objectContaining({ purpose: 'recording', as: 'withheld', file: null, original: sha256(film()) }),
  );
  for (const trace of ['+40.4461', 'Exif', 'Pocket 9'])
    expect([trace, office.includes(trace), own.includes(trace)]).toEqual([trace, true, false]);
});

test('both hold, and say what the seals don’t prove', async () => {
  for (const pack of [office, own]) expect(faultsOf(await reportOf(pack))).toEqual([]);
  const notes = (await reportOf(own)).checks
    .filter(({ result }) => result === 'note')
    .map(({ sentence }) => sentence);
  expect(notes).toContainEqual(expect.stringContaining('photos/02-after.jpg: parts are covered'));
  expect(notes).toContainEqual(expect.stringContaining('2 of them are not in the pack itself'));
});

test('a pack from after a change of the key is signed by the new one, which the old one introduces', async () => {
  const files = unpacked(own);
  const { keys } = jsonIn(files, 'keys.json');
  expect(keys).toHaveLength(2);
  expect(jsonIn(files, 'manifest.signature.json').key).toBe(keys[1].id);
  expect(Object.keys(files)).toEqual(
    expect.arrayContaining(['seals/000001.json', 'seals/000002.json', 'days/later.json']),
  );
  const { checks } = await reportOf(own);
  expect(checks).toContainEqual(expect.objectContaining({ about: 'keys', result: 'holds' }));
  // The first day is the seal’s own; the newest, whose digest a statement prints, is reached by the chain.
  const later = jsonIn(files, 'days/later.json').days.at(-1);
  const day = sha256(Buffer.from(later.text));
  const held = await reportOf(own, { day, keyId: '' });
  expect(held.checks.at(-1)).toMatchObject({
    result: 'holds',
    sentence: expect.stringContaining('2026-08-07'),
  });
});
