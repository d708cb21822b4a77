import { createHash, randomUUID } from 'node:crypto';
import { rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { LineId, PhotoId, PhotoPurpose, VersionId, VisitId, WorkOrderId } from '@grainwright/domain';
import { type ObjectKey, objectKey } from '@grainwright/evidence';
import { type LineInput, submitEstimate, type WriteUpInput, writeUp } from '@grainwright/operations';
import postgres from 'postgres';
import { sample } from '../../packages/evidence/src/photo/photo-fixtures.ts';
import { type Account, must, type World } from './world.ts';

/** A line with everything left empty that a test does not name: a cut in a tailgate lining, nothing tested. */
export function aLine(line: Partial<LineInput> = {}): LineInput {
  return {
    part: 'tailgate_lining',
    side: '',
    damage: 'cut_or_tear',
    visibleWhen: '',
    observation: '',
    looksLike: '',
    overruledMaterial: '',
    overruleReason: '',
    methods: [],
    measuredInches: '',
    family: '',
    rateCode: '',
    factorCode: '',
    byHandPrice: '',
    byHandReason: '',
    byHandMaterialsPercent: '',
    note: '',
    ...line,
  };
}

let vehicles = 0;

/** Every vehicle is another one, so that nobody takes two work orders for the same damage written up twice. */
function anotherLastEight(): string {
  vehicles += 1;
  return `SR${String(vehicles).padStart(6, '0')}`;
}

/** A write-up at the account's site with an invented vehicle that is known by the last 8 of its VIN. */
export function aWriteUp(account: Account, written: Partial<WriteUpInput> = {}): WriteUpInput {
  const { world } = account.business;
  return {
    id: world.newId<WorkOrderId>(),
    visitId: world.newId<VisitId>(),
    accountId: account.id,
    siteId: account.siteId,
    day: '',
    afterHours: false,
    vin: '',
    lastEight: written.vin === undefined ? anotherLastEight() : '',
    modelYear: '2025',
    make: 'Ostra',
    model: 'Vela',
    color: 'gray',
    ownNumber: '',
    roNumber: '',
    poNumber: '',
    ownerName: '',
    ownerPhone: '',
    odometerMiles: '',
    replacement: '',
    replacementNote: '',
    ...written,
  };
}

/** Writes a vehicle up as the technician and answers with its work order's id. */
export async function writtenUp(account: Account, written: Partial<WriteUpInput> = {}): Promise<WorkOrderId> {
  const { world, technician } = account.business;
  return must(await writeUp(world.services, technician, aWriteUp(account, written))).workOrderId;
}

/** A photo without the time it takes to look at one: all of them are the same small picture. */
export async function photoRow(
  account: Account,
  photo: { workOrderId: WorkOrderId; lineId: LineId | null; purpose: PhotoPurpose },
): Promise<PhotoId> {
  const { world, tenantId, technician } = account.business;
  const id = world.newId<PhotoId>();
  const { bytes, sha256 } = await onePicture();
  const key = objectKey(tenantId, 'original', sha256);
  if (!(await world.objects.has(key))) await keepAt(world, key, bytes);
  const sql = postgres(world.adminUrl, { max: 1 });
  await sql`insert into photos (tenant_id, id, work_order_id, line_id, purpose, sha256, bytes, media_type, width, height,
      storage_key, received_at, received_from)
    values (${tenantId}, ${id}, ${photo.workOrderId}, ${photo.lineId}, ${photo.purpose},
      ${sha256}, ${bytes.length}, 'image/jpeg', 320, 240, ${key}, ${world.services.now()}, ${technician.personId})`;
  await sql.end();
  return id;
}

let picture: Promise<{ readonly bytes: Buffer; readonly sha256: string }> | undefined;

function onePicture() {
  picture ??= sample({ width: 320, height: 240 })
    .jpeg()
    .toBuffer()
    .then((bytes) => ({ bytes, sha256: createHash('sha256').update(bytes).digest('hex') }));
  return picture;
}

async function keepAt({ objects }: World, key: ObjectKey, bytes: Buffer): Promise<void> {
  const path = join(objects.temporaryDirectory, randomUUID());
  await writeFile(path, bytes);
  await objects.put(path, key);
  await rm(path);
}

/** Sends the estimate as the technician and answers with the version's id. */
export async function sent(account: Account, workOrderId: WorkOrderId): Promise<VersionId> {
  const { world, technician } = account.business;
  const versionId = world.newId<VersionId>();
  must(await submitEstimate(world.services, technician, { workOrderId, versionId }));
  return versionId;
}
