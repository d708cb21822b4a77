import { type DeletionId, toId } from '@grainwright/domain';
import { type OpenedServices, removeDeleted } from '@grainwright/operations';
import type { Task } from 'graphile-worker';
import { readSubject } from '../job-subject.ts';

/** Takes the bytes of what is on record as deleted out of the store. A failure is thrown, and the library tries again. */
export function removeDeletedTask({ services }: Pick<OpenedServices, 'services'>): Task {
  return async (payload) => {
    const { tenantId, subjectId } = readSubject(payload);
    const removed = await removeDeleted(services, { tenantId, deletionId: toId<DeletionId>(subjectId) });
    if (!removed.ok) throw new Error(removed.problem.detail);
  };
}
