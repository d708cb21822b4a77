import { Readable } from 'node:stream';
import { addPhoto, readPhoneSnapshot } from '@grainwright/operations';
import sharp from 'sharp';
import { expect, test } from 'vitest';
import { aJpeg, photoInput, startedLine } from './support/work-in-hand.ts';
import { aBusiness, anAccount, must, openWorld } from './support/world.ts';

test('a phone takes along what the end of work is checked by: warnings of photos, and the size that is billed', async () => {
  const world = await openWorld();
  const business = await aBusiness(world);
  const glass = await anAccount(business, { limit: null });
  world.at('2026-08-05T10:00');
  const { workOrderId, lineId } = await startedLine(glass);
  const blurred = await sharp(await aJpeg())
    .resize(1280, 960)
    .blur(20)
    .jpeg()
    .toBuffer();
  const input = photoInput(glass, blurred, { workOrderId, lineId, purpose: 'after' });
  const sent = { ...input, stream: Readable.from([blurred]) };
  const { photoId } = must(await addPhoto(world.services, business.technician, sent));
  const { workOrders } = must(await readPhoneSnapshot(world.services, business.technician));
  const taken = workOrders.find(({ id }) => id === workOrderId);
  expect(taken?.warned).toMatchObject([
    { id: photoId, lineId, warnings: [{ code: 'blurred' }], retakenBy: null, override: null },
  ]);
  // The cut measures 2.2 in.
  const band = taken?.lines[0]?.billedBand;
  expect(Number(band?.overInches)).toBeLessThan(2.2);
  expect(Number(band?.toInches)).toBeGreaterThanOrEqual(2.2);
  expect(taken?.lines[0]?.keyTest).toBeNull();
});
