import { type DecisionId, toId } from '@grainwright/domain';
import { type OpenedServices, tellAnswer } from '@grainwright/operations';
import type { Task } from 'graphile-worker';
import { readSubject } from '../job-subject.ts';

/** Mails a copy of an answer to whoever gave it, and tells the others who were asked. */
export function tellAnswerTask({ services }: Pick<OpenedServices, 'services'>): Task {
  return async (payload) => {
    const { tenantId, subjectId } = readSubject(payload);
    const done = await tellAnswer(services, { tenantId, decisionId: toId<DecisionId>(subjectId) });
    if (!done.ok) throw new Error(done.problem.detail);
  };
}
