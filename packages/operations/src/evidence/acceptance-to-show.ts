import {
  findOwnersVehicle,
  listOwnersLines,
  listShownPhotos,
  listStopPoints,
  type TenantTransaction,
} from '@grainwright/db';
import { type AcceptanceShown, type Result, refuse, toId, type WorkOrderId } from '@grainwright/domain';
import {
  type AcceptanceToShow,
  buildAcceptance,
  type FromTheBusiness,
  type PicturedPart,
  signedParts,
} from './shown-acceptance.ts';

export type { AcceptanceToShow, FromTheBusiness, PicturedPart, PicturedPhoto } from './shown-acceptance.ts';

/** Reads exactly what is shown and signed, in whatever role the transaction has: the owner's is enough. */
export async function readAcceptanceToShow(
  tx: TenantTransaction,
  business: FromTheBusiness,
): Promise<Result<AcceptanceToShow>> {
  const vehicle = await findOwnersVehicle(tx, business.workOrderId);
  if (vehicle === null) return refuse('not_found', 'There is no such work order.');
  return buildAcceptance({ vehicle, ...(await readFacts(tx, business.workOrderId)) }, business);
}

/** The pictures that stood in what was signed, in whatever role the transaction has. */
export async function readSignedParts(
  tx: TenantTransaction,
  shown: AcceptanceShown,
): Promise<readonly PicturedPart[]> {
  return signedParts(await readFacts(tx, toId<WorkOrderId>(shown.workOrder)), shown);
}

async function readFacts(tx: TenantTransaction, workOrderId: WorkOrderId) {
  const lines = await listOwnersLines(tx, workOrderId);
  const photos = await listShownPhotos(tx, workOrderId);
  const stopPoints = (await listStopPoints(tx, workOrderId)).filter(({ shown }) => shown);
  return { lines, photos, stopPoints };
}
