import { type PhotoId, toId } from '@grainwright/domain';
import { makePhotoDerivatives, type OpenedServices } from '@grainwright/operations';
import type { Task } from 'graphile-worker';
import { readSubject } from '../job-subject.ts';

/** Makes the upright, position-stripped copies of a photo. A failure is thrown, and the library tries again later. */
export function makePhotoDerivativesTask({ services, temporaryFolder }: OpenedServices): Task {
  return async (payload) => {
    const { tenantId, subjectId } = readSubject(payload);
    const made = await makePhotoDerivatives(services, {
      tenantId,
      photoId: toId<PhotoId>(subjectId),
      directory: temporaryFolder,
    });
    if (!made.ok) throw new Error(made.problem.detail);
  };
}
