import { findReleaseToSeal, type TenantTransaction } from '@grainwright/db';
import type { MissingSignatureId, SealedRelease } from '@grainwright/domain';
import { sealedVersion, sealedWork } from './sealed-work.ts';

/** Finished work that was let go without a signature: why there is none, who saw it, and who let it go. */
export async function sealedRelease(tx: TenantTransaction, id: MissingSignatureId): Promise<SealedRelease> {
  const found = await findReleaseToSeal(tx, id);
  if (found === null) throw new Error('there is no such release');
  const { missing, release, recordedByName, releasedByName } = found;
  return {
    format: 'sealed-release-1',
    ...(await sealedWork(tx, missing.workOrderId)),
    release: { reason: release.reason, releasedBy: releasedByName, releasedAt: release.releasedAt },
    missing: {
      id,
      why: missing.why,
      reason: missing.reason,
      witness: missing.witness,
      recordedBy: recordedByName,
      recordedAt: missing.recordedAt,
    },
    approved: await sealedVersion(tx, missing.workOrderId),
  };
}
