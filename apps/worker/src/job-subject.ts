import { isUuid, type TenantId, toId } from '@grainwright/domain';

export interface JobSubject {
  readonly tenantId: TenantId;
  readonly subjectId: string;
}

/** Reads what the database's `enqueue_job` put into a job: whose it is, and what it is about. Throws on anything else. */
export function readSubject(payload: unknown): JobSubject {
  if (typeof payload === 'object' && payload !== null && 'tenant_id' in payload && 'subject_id' in payload) {
    const { tenant_id, subject_id } = payload;
    if (typeof tenant_id === 'string' && typeof subject_id === 'string' && isUuid(subject_id))
      return { tenantId: toId<TenantId>(tenant_id), subjectId: subject_id };
  }
  throw new Error('a job without a tenant and a subject');
}
