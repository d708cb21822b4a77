import { type AcceptanceId, toId } from '@grainwright/domain';
import { mailOwnersCopy, type OpenedServices } from '@grainwright/operations';
import type { Task } from 'graphile-worker';
import { readSubject } from '../job-subject.ts';

/** Mails a vehicle's owner the copy of what they signed by a link. A failure is thrown, and the library tries again later. */
export function mailAcceptanceTask({ services }: Pick<OpenedServices, 'services'>): Task {
  return async (payload) => {
    const { tenantId, subjectId } = readSubject(payload);
    const mailed = await mailOwnersCopy(services, { tenantId, acceptanceId: toId<AcceptanceId>(subjectId) });
    if (!mailed.ok) throw new Error(mailed.problem.detail);
  };
}
