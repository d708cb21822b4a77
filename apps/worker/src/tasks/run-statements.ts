import { type StatementRunId, toId } from '@grainwright/domain';
import { issueStatements, type OpenedServices } from '@grainwright/operations';
import type { Task } from 'graphile-worker';
import { readSubject } from '../job-subject.ts';

/** Issues what still waits of a run of statements. A failure is thrown, and the library goes on with it later. */
export function runStatementsTask({ services }: Pick<OpenedServices, 'services'>): Task {
  return async (payload) => {
    const { tenantId, subjectId } = readSubject(payload);
    const issued = await issueStatements(services, { tenantId, runId: toId<StatementRunId>(subjectId) });
    if (!issued.ok) throw new Error(issued.problem.detail);
  };
}
