import type { LineId, PhotoId, PhotoPurpose, VersionId, VisitId, WorkOrderId } from '@grainwright/domain';
import { type LineInput, submitEstimate, type WriteUpInput, writeUp } from '@grainwright/operations';
import postgres from 'postgres';
import { type Account, must } from './world.ts';

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

/** A row that says a photo is there; no bytes are kept, so it is for tests that look at no picture. */
export async function photoRow(
  account: Account,
  photo: { workOrderId: WorkOrderId; lineId: LineId | null; purpose: PhotoPurpose },
): Promise<PhotoId> {
  const { world, tenantId, technician } = account.business;
  const id = world.newId<PhotoId>();
  const sql = postgres(world.adminUrl, { max: 1 });
  await sql`insert into photos (tenant_id, id, work_order_id, line_id, purpose, sha256, bytes, media_type, width, height,
      storage_key, received_at, received_from)
    values (${tenantId}, ${id}, ${photo.workOrderId}, ${photo.lineId}, ${photo.purpose},
      ${'0'.repeat(64)}, 1, 'image/jpeg', 1600, 1200, 'none', ${world.services.now()}, ${technician.personId})`;
  await sql.end();
  return id;
}

/** Sends the estimate as the technician and answers with the version's id. */
export async function sent(account: Account, workOrderId: WorkOrderId): Promise<VersionId> {
  const { world, technician } = account.business;
  const versionId = world.newId<VersionId>();
  must(await submitEstimate(world.services, technician, { workOrderId, versionId }));
  return versionId;
}
