import { ok, type Result, type TenantId } from '@grainwright/domain';
import { chainAudit } from './chain-audit.ts';
import { closeSealDays } from './close-seal-days.ts';
import { type SealServices, sealRecords, UnsealableRecord } from './seal-records.ts';

/**
 * Seals what waits, chains what was recorded, and puts every day that is over under its root. A record that can't be
 * sealed keeps nothing else from it; it is answered, so that whoever asked can tell.
 */
export async function sealDaysOver(
  services: SealServices,
  tenantId: TenantId,
): Promise<Result<{ readonly unsealable: UnsealableRecord | null }>> {
  const sealed = await sealAll(services, tenantId);
  if (!sealed.ok) return sealed;
  const chained = await chainAudit(services, tenantId);
  if (!chained.ok) return chained;
  const closed = await closeSealDays(services, tenantId);
  return closed.ok ? ok({ unsealable: sealed.value }) : closed;
}

async function sealAll(services: SealServices, tenantId: TenantId): Promise<Result<UnsealableRecord | null>> {
  try {
    const sealed = await sealRecords(services, tenantId);
    return sealed.ok ? ok(null) : sealed;
  } catch (error) {
    if (error instanceof UnsealableRecord) return ok(error);
    throw error;
  }
}
