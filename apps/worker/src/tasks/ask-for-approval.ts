import { toId, type VersionId } from '@grainwright/domain';
import { askForApproval, type OpenedServices } from '@grainwright/operations';
import type { Task } from 'graphile-worker';
import { readSubject } from '../job-subject.ts';

/** Asks the account’s approvers for an answer to a version that was sent. */
export function askForApprovalTask({ services }: Pick<OpenedServices, 'services'>): Task {
  return async (payload) => {
    const { tenantId, subjectId } = readSubject(payload);
    const done = await askForApproval(services, { tenantId, versionId: toId<VersionId>(subjectId) });
    if (!done.ok) throw new Error(done.problem.detail);
  };
}
