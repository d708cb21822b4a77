import { chainAudit, closeSealDays, sealRecords } from '@grainwright/operations';
import { must } from './must.ts';
import type { Stage } from './stage.ts';

/** What the worker would do in this moment of the story: seals what was just answered, signed or credited. */
export async function sealNow({ services, owner }: Pick<Stage, 'services' | 'owner'>): Promise<void> {
  must(await sealRecords(services, owner.tenantId));
}

/** Chains everything that was recorded, and closes every day that is over, once the story is told. */
export async function closeChains({ services, owner }: Pick<Stage, 'services' | 'owner'>): Promise<void> {
  must(await sealRecords(services, owner.tenantId));
  must(await chainAudit(services, owner.tenantId));
  must(await closeSealDays(services, owner.tenantId));
}
