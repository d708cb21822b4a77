import { findBusiness, type TenantTransaction } from '@grainwright/db';
import { dayAt, type PersonId } from '@grainwright/domain';
import type { Actor, RecordScope, Scope } from './perform.ts';
import type { Services } from './services.ts';

/** What a job has at hand that does what somebody caused: as `Scope`, in that person’s name and with the staff’s reach. */
export interface JobScope extends RecordScope, Pick<Scope, 'business' | 'today'> {
  readonly actor: Actor;
}

/** Inside a transaction of the role `staff`. Permission was asked of whoever caused the job, when they did. */
export async function jobScope(
  { now, newId }: Pick<Services, 'now' | 'newId'>,
  tx: TenantTransaction,
  causedBy: PersonId,
): Promise<JobScope> {
  const business = await findBusiness(tx);
  if (business === null) throw new Error('a job of no business');
  const at = now();
  const actor = { tenantId: tx.tenantId, personId: causedBy, accountId: null, fromAddress: '' };
  return { tx, now: at, newId, actor, business, today: dayAt(at, business.timeZone) };
}
