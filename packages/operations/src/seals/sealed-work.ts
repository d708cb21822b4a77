import {
  findApprovedVersion,
  findWorkToSeal,
  listPhotosToSeal,
  type TenantTransaction,
} from '@grainwright/db';
import {
  canonicalJson,
  digestHex,
  type FrozenText,
  type JsonValue,
  type SealedVersion,
  type SealedWork,
  type WorkOrderId,
} from '@grainwright/domain';
import { vehicleWords } from '../work-orders/vehicle-words.ts';

/** What every seal of a work order says of it: whose, which, what vehicle, and every photo there is by then. */
export async function sealedWork(tx: TenantTransaction, id: WorkOrderId): Promise<SealedWork> {
  const work = await findWorkToSeal(tx, id);
  if (work === null) throw new Error('there is no such work order');
  const photos = await listPhotosToSeal(tx, id);
  return {
    business: { name: work.businessName },
    account: { id: work.accountId, name: work.accountName },
    workOrder: { id, number: work.number.toString() },
    vehicle: { description: vehicleWords(work), vin: work.vin, lastEight: work.lastEight },
    photos: photos.map((photo) => ({
      photo: photo.id,
      line: photo.lineId,
      purpose: photo.purpose,
      sha256: photo.sha256,
      bareSha256: photo.bareSha256,
      takenAtLocal: photo.takenAtLocal,
      capturedAt: photo.capturedAt,
      receivedAt: photo.receivedAt,
    })),
  };
}

/** The answer that the work was done by; null for what never had one. */
export async function sealedVersion(tx: TenantTransaction, id: WorkOrderId): Promise<SealedVersion | null> {
  const approved = await findApprovedVersion(tx, id);
  if (approved === null) return null;
  const { decisionId, versionId, number, digest } = approved;
  return { decision: decisionId, version: versionId, number, digest };
}

/** A text with the digest that was stored with it. Throws where the text is not the one that it was taken of. */
export function frozenText(text: string, digest: string): FrozenText {
  if (digestHex(text) !== digest) throw new Error('a text on record is not what its digest was made of');
  return { digest, text };
}

export function strokesDigest(strokes: JsonValue | null): string | null {
  return strokes === null ? null : digestHex(canonicalJson(strokes));
}
