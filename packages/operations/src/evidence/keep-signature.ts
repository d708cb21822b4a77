import type { AcceptanceRow } from '@grainwright/db';
import { checkSignatureMark, type SignatureMark, type TenantId } from '@grainwright/domain';
import { signaturePicture } from '@grainwright/evidence';
import type { Services } from '../services.ts';
import { keepBytes } from '../stored-bytes.ts';

export type KeptSignature = Pick<AcceptanceRow, 'signatureSha256' | 'signatureKey'>;

/**
 * Makes the picture of a drawn signature and keeps it under the digest of its bytes, before the answer that names it is
 * written. Nothing is kept of a typed name, nor of a drawing that the answer will be refused for.
 */
export async function keepSignature(
  { objects }: Pick<Services, 'objects'>,
  tenantId: TenantId,
  mark: SignatureMark,
): Promise<KeptSignature> {
  if (mark.kind === 'typed' || !checkSignatureMark(mark).ok)
    return { signatureSha256: null, signatureKey: null };
  const kept = await keepBytes(objects, tenantId, 'signature', signaturePicture(mark.strokes));
  return { signatureSha256: kept.sha256, signatureKey: kept.storageKey };
}
