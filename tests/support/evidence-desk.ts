import { buffer } from 'node:stream/consumers';
import { sealKeySeed } from '@grainwright/auth';
import {
  type AcceptanceId,
  type ArchivedFile,
  type PackReport,
  type PhotoId,
  type PhotoOverrideId,
  type PhotoPurpose,
  type PrintedDigests,
  readArchive,
  verifyPack,
  type WorkOrderId,
} from '@grainwright/domain';
import { acceptWork, addPhoto, finishWork, openEvidencePack, showAcceptance } from '@grainwright/operations';
import { unzipSync, zipSync } from 'fflate';
import piexif from 'piexif-ts';
import { sample } from '../../packages/evidence/src/photo/photo-fixtures.ts';
import { aJpeg, asAdministrator, photoInput, startedLine, type WorkInHand } from './work-in-hand.ts';
import { type Account, must, type World } from './world.ts';

/** An archive’s files by name, as another program unpacks them. */
export type Unpacked = Record<string, Uint8Array>;

/** 40° 26′ 46″ N, 79° 58′ 56″ W: where piexif-ts, a writer of its own, says that a picture was taken. */
export const place = { latitude: [40, 26, 46], longitude: [79, 58, 56] } as const;

/** A JPEG with a position and a camera’s name in it, by tag numbers of Exif 2.32 sections 4.6.4 to 4.6.6. */
export function withPlace(jpeg: Buffer): Buffer {
  const rational = (parts: readonly number[]) => parts.map((part): [number, number] => [part, 1]);
  const exif = piexif.dump({
    '0th': { 271: 'Example Cameras', 272: 'Pocket 9' },
    Exif: { 36867: '2026:08:05 09:41:00' },
    GPS: { 1: 'N', 2: rational(place.latitude), 3: 'W', 4: rational(place.longitude) },
  });
  return Buffer.from(piexif.insert(exif, jpeg.toString('latin1')), 'latin1');
}

export async function shot(
  account: Account,
  { workOrderId, lineId }: WorkInHand,
  purpose: PhotoPurpose,
  bytes: Buffer,
): Promise<PhotoId> {
  const { world, technician } = account.business;
  const input = photoInput(account, bytes, { workOrderId, lineId, purpose });
  return must(await addPhoto(world.services, technician, input)).photoId;
}

/** Work of one line with pictures that name a place, accepted by its owner with a drawn signature at half past ten. */
export async function acceptedWithPlace(account: Account): Promise<WorkInHand> {
  const { world, technician } = account.business;
  const work = await startedLine(account);
  const small = await sample({ width: 320, height: 240 }).jpeg().toBuffer();
  const photoId = await shot(account, work, 'after_heat', withPlace(small));
  await shot(account, work, 'after', withPlace(await aJpeg()));
  const photoReasons = [{ overrideId: world.newId<PhotoOverrideId>(), photoId, reason: 'The lamp was out.' }];
  must(
    await finishWork(world.services, technician, {
      workOrderId: work.workOrderId,
      work: [],
      overrides: [],
      photoReasons,
    }),
  );
  world.at('2026-08-05T10:30');
  await accepted(account, work.workOrderId);
  return work;
}

async function accepted(account: Account, workOrderId: WorkOrderId): Promise<void> {
  const { world, technician } = account.business;
  const { digest } = must(await showAcceptance(world.services, technician, workOrderId));
  must(
    await acceptWork(world.services, technician, {
      acceptanceId: world.newId<AcceptanceId>(),
      workOrderId,
      shownDigest: digest,
      outcome: 'accepted_with_remark',
      remark: 'A faint edge in low sun.',
      signerName: 'Orrin Vasek',
      signerRole: 'vehicle_owner',
      mark: { kind: 'drawn', strokes: [wave] },
      overrideReason: '',
      device: 'a phone',
    }),
  );
}

const wave = [
  { x: 10, y: 40, t: 0 },
  { x: 60, y: 12, t: 40 },
  { x: 90, y: 44, t: 80 },
  { x: 150, y: 16, t: 120 },
];

type Opener = Parameters<typeof openEvidencePack>[1];

export async function packOf(world: World, actor: Opener, id: WorkOrderId): Promise<Buffer> {
  return buffer(must(await openEvidencePack(world.services, actor, id)).stream);
}

export function unpacked(pack: Uint8Array): Unpacked {
  return unzipSync(new Uint8Array(pack));
}

/** Another program’s archive of these files, as they are. */
export function packedAgain(files: Unpacked): Uint8Array {
  return zipSync(files, { level: 0 });
}

export function jsonIn(files: Unpacked, name: string) {
  const bytes = files[name];
  if (bytes === undefined) throw new Error(`there is no ${name}`);
  return JSON.parse(Buffer.from(bytes).toString('utf8'));
}

export async function archivedIn(pack: Uint8Array): Promise<readonly ArchivedFile[]> {
  const read = await readArchive({
    bytes: pack.length,
    read: async (start, end) => pack.subarray(start, end),
  });
  return must(read);
}

/** The report of a pack; of one that can’t be read, its refusal as the one fault. */
export async function reportOf(pack: Uint8Array, printed?: PrintedDigests): Promise<PackReport> {
  return verifyPack(await archivedIn(pack), printed);
}

export function faultsOf({ checks }: PackReport): readonly string[] {
  return checks.filter(({ result }) => result === 'fails').map(({ sentence }) => sentence);
}

/** The secret of the business’s own key: what somebody inside could sign with. */
export async function insidersSeed(world: World, tenantId: string): Promise<Uint8Array> {
  const [row] = await asAdministrator(
    world,
    (sql) => sql`select salt from signing_keys where tenant_id = ${tenantId} order by number desc limit 1`,
  );
  return sealKeySeed(world.services.links.key, String(row?.salt), tenantId);
}
