import { type OpenedServices, sealRecords } from '@grainwright/operations';
import type { Task } from 'graphile-worker';
import { readSubject } from '../job-subject.ts';

/** Seals what waits in a business. What fails is thrown, and the library goes on with it later. */
export function sealRecordsTask({ services }: Pick<OpenedServices, 'services'>): Task {
  return async (payload) => {
    const { tenantId } = readSubject(payload);
    const sealed = await sealRecords(services, tenantId);
    if (!sealed.ok) throw new Error(sealed.problem.detail);
  };
}
