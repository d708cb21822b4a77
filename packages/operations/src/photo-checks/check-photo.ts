import { findWorkOrder, insertPhotoCheck, listPhotosToCompare, type PhotoRow } from '@grainwright/db';
import { type PhotoMeasures, type PhotoWarning, photoWarnings, readTakenTime } from '@grainwright/domain';
import type { Scope } from '../perform.ts';

/** A photo that was just written, with what its row does not keep. */
export interface PhotoToCheck
  extends Pick<
    PhotoRow,
    'id' | 'workOrderId' | 'sha256' | 'width' | 'height' | 'takenAtLocal' | 'capturedAt'
  > {
  readonly takenAtOffset: string | null;
  readonly measures: PhotoMeasures;
}

/** Keeps what is to be said of a new photo, in the transaction that writes it, and answers with it. It refuses nothing. */
export async function checkPhoto(
  scope: Pick<Scope, 'tx' | 'now' | 'business'>,
  photo: PhotoToCheck,
): Promise<readonly PhotoWarning[]> {
  const { id, workOrderId, sha256, measures } = photo;
  const found = await findWorkOrder(scope.tx, workOrderId);
  const compared = await listPhotosToCompare(scope.tx, { workOrderId, sha256, hash: measures.hash });
  const warnings = photoWarnings(
    { ...photo, taken: readTakenTime({ ...photo, timeZone: scope.business.timeZone }) },
    {
      others: compared
        .filter((other) => other.id !== id)
        .map((other) => ({
          sha256: other.sha256,
          purpose: other.purpose,
          measures:
            other.hash === null || other.print === null ? null : { hash: other.hash, print: other.print },
          elsewhere: other.workOrderId === workOrderId ? null : `WO-${other.workOrderNumber}`,
        })),
      writtenUpAt: found?.workOrder.madeAt ?? found?.workOrder.writtenUpAt ?? null,
      now: scope.now,
    },
  );
  await insertPhotoCheck(scope.tx, { photoId: id, ...measures, warnings, checkedAt: scope.now });
  return warnings;
}
