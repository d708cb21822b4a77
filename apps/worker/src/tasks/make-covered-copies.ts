import { type CoveringId, toId } from '@grainwright/domain';
import { makeCoveredCopies, type OpenedServices } from '@grainwright/operations';
import type { Task } from 'graphile-worker';
import { readSubject } from '../job-subject.ts';

/** Makes the copies of a photo with its parts covered. A failure is thrown, and the library tries again later. */
export function makeCoveredCopiesTask({ services, temporaryFolder }: OpenedServices): Task {
  return async (payload) => {
    const { tenantId, subjectId } = readSubject(payload);
    const made = await makeCoveredCopies(services, {
      tenantId,
      coveringId: toId<CoveringId>(subjectId),
      directory: temporaryFolder,
    });
    if (!made.ok) throw new Error(made.problem.detail);
  };
}
