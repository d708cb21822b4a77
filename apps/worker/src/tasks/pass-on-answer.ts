import { type PassedOnId, toId } from '@grainwright/domain';
import { mailPassedOn, type OpenedServices } from '@grainwright/operations';
import type { Task } from 'graphile-worker';
import { readSubject } from '../job-subject.ts';

/** Mails whoever an answer above somebody’s limit was passed on to. */
export function passOnAnswerTask({ services }: Pick<OpenedServices, 'services'>): Task {
  return async (payload) => {
    const { tenantId, subjectId } = readSubject(payload);
    const done = await mailPassedOn(services, { tenantId, passedOnId: toId<PassedOnId>(subjectId) });
    if (!done.ok) throw new Error(done.problem.detail);
  };
}
