import { findWorkOrder, listSentVersions, type SentVersion } from '@grainwright/db';
import { ok, type Result, refuse, type VersionId, type WorkOrderId } from '@grainwright/domain';
import { type Actor, perform, type Scope } from '../perform.ts';
import type { Services } from '../services.ts';

/** A version of an estimate that was sent, what became of it, and the answer to it. */
export interface SentVersionView extends SentVersion {
  readonly stands: 'waits' | 'answered' | 'superseded';
}

/** Every version of a work order that was sent, the first one first. Refuses with `not_found`. */
export function listVersions(
  services: Services,
  actor: Actor,
  workOrderId: WorkOrderId,
): Promise<Result<readonly SentVersionView[]>> {
  return perform(services, actor, 'see_work_orders', async (scope) => {
    const found = await findWorkOrder(scope.tx, workOrderId);
    if (found === null) return refuse('not_found', 'There is no such work order.');
    return ok(await versionsOf(scope, workOrderId, found.workOrder.currentVersionId));
  });
}

export async function versionsOf(
  { tx }: Pick<Scope, 'tx'>,
  workOrderId: WorkOrderId,
  currentVersionId: VersionId | null,
): Promise<readonly SentVersionView[]> {
  const versions = await listSentVersions(tx, workOrderId);
  return versions.map((version) => ({ ...version, stands: standsOf(version, currentVersionId) }));
}

/** An answered one may be superseded too, by a change after it; that it was answered is what counts. */
function standsOf({ id, decisionId }: SentVersion, current: VersionId | null): SentVersionView['stands'] {
  if (decisionId !== null) return 'answered';
  return id === current ? 'waits' : 'superseded';
}
