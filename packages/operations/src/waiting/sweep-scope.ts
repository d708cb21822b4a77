import { findBusiness, type TenantTransaction } from '@grainwright/db';
import { type Day, dayAt, type Instant, type Result, type TenantId } from '@grainwright/domain';
import type { Services } from '../services.ts';

export type SweepServices = Pick<Services, 'database' | 'links' | 'now' | 'newId'>;

/** What a look over one business has at hand. */
export interface SweepScope {
  readonly tx: TenantTransaction;
  readonly now: Instant;
  readonly today: Day;
  readonly timeZone: string;
}

/** One look over a business, in a transaction of its own that changes nothing. */
export function inTenant<T>(
  { database, now }: SweepServices,
  tenantId: TenantId,
  look: (scope: SweepScope) => Promise<Result<T>>,
): Promise<Result<T>> {
  return database.withTenant({ role: 'staff', tenantId }, async (tx) => {
    const business = await findBusiness(tx);
    if (business === null) throw new Error('a registered business that is not there');
    const at = now();
    const { timeZone } = business;
    return look({ tx, now: at, today: dayAt(at, timeZone), timeZone });
  });
}
