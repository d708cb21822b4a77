import { type AcceptanceRow, findShownAcceptance } from '@grainwright/db';
import { type AcceptanceId, ok, type Result, refuse } from '@grainwright/domain';
import { toObjectKey } from '@grainwright/evidence';
import { type Actor, perform } from '../perform.ts';
import type { Services } from '../services.ts';
import type { OpenedPhoto } from './open-photo.ts';

export interface OpenSignatureInput {
  readonly acceptanceId: AcceptanceId;
  /** The digest of what the reader already holds. */
  readonly heldDigest?: string | undefined;
}

/** The drawn signature of an answer as a picture, for whoever sees the work order. Refuses with `not_found`. */
export async function openSignature(
  services: Services,
  actor: Actor,
  input: OpenSignatureInput,
): Promise<Result<OpenedPhoto>> {
  const found = await perform(services, actor, 'see_work_orders', async ({ tx }) =>
    ok(await findShownAcceptance(tx, input.acceptanceId)),
  );
  return found.ok ? openKeptSignature(services, input, found.value) : found;
}

/** Opens the picture of an answer that was found, unless the reader holds it already. */
export async function openKeptSignature(
  { objects }: Pick<Services, 'objects'>,
  { acceptanceId, heldDigest }: OpenSignatureInput,
  row: Pick<AcceptanceRow, 'signatureSha256' | 'signatureKey'> | null,
): Promise<Result<OpenedPhoto>> {
  if (row === null || row.signatureSha256 === null || row.signatureKey === null)
    return refuse('not_found', 'There is no drawn signature.');
  const known = {
    sha256: row.signatureSha256,
    mediaType: 'image/png',
    fileName: `signature-${acceptanceId}.png`,
  };
  if (heldDigest === known.sha256) return ok({ ...known, bytes: 0, stream: null });
  const object = await objects.open(toObjectKey(row.signatureKey));
  if (object === null) throw new Error(`the object store lacks ${row.signatureKey}`);
  return ok({ ...known, bytes: object.bytes, stream: object.stream });
}
