import { findWorkOrderNumber, findWorkToSeal, type TenantTransaction } from '@grainwright/db';
import type { SealedRework, WorkOrderId } from '@grainwright/domain';
import { sealedWork } from './sealed-work.ts';

/** A work order that repairs what another one left wanting, and which one that is. */
export async function sealedRework(tx: TenantTransaction, id: WorkOrderId): Promise<SealedRework> {
  const work = await findWorkToSeal(tx, id);
  const ofId = work?.reworkOfId ?? null;
  const number = ofId === null ? null : await findWorkOrderNumber(tx, ofId);
  if (work === null || ofId === null || number === null) throw new Error('there is no such rework');
  return {
    format: 'sealed-rework-1',
    ...(await sealedWork(tx, id)),
    rework: {
      of: { id: ofId, number: number.toString() },
      reason: work.reworkReason,
      writtenUpAt: work.writtenUpAt,
    },
  };
}
