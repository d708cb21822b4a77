import { instant } from '@grainwright/domain';
import { chainAudit, closeSealDays, listSealKeys, sealRecords } from '@grainwright/operations';
import { type Account, must } from '../support/world.ts';

/** A day that is sealed and over; what the account did so far is under its root. */
export async function tellSeals({ business }: Account): Promise<{ readonly signingKey: string }> {
  const { world, tenantId, owner } = business;
  const { services } = world;
  const theDayBefore = { ...services, now: () => instant('2026-08-04T20:00:00Z') };
  must(await sealRecords(theDayBefore, tenantId));
  must(await chainAudit(services, tenantId));
  must(await closeSealDays(services, tenantId));
  const [first] = must(await listSealKeys(services, owner));
  if (first === undefined) throw new Error('nothing was sealed');
  return { signingKey: first.id };
}
