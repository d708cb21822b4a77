import { type AccessLinkRow, findWorkOrder, listAccessLinks } from '@grainwright/db';
import { isBefore, ok, type Result, refuse, type WorkOrderId } from '@grainwright/domain';
import { type Actor, performAsStaff } from '../perform.ts';
import type { Services } from '../services.ts';

/** A link as the office sees it: never its secret, nor what is stored of it. */
export interface AccessLinkView
  extends Pick<
    AccessLinkRow,
    'id' | 'purpose' | 'personId' | 'workOrderId' | 'madeAt' | 'expiresAt' | 'revokedAt'
  > {
  readonly opens: boolean;
}

/** The links that were given about a work order, the latest first. Refuses with `not_found`. */
export function listLinks(
  services: Services,
  actor: Actor,
  workOrderId: WorkOrderId,
): Promise<Result<readonly AccessLinkView[]>> {
  return performAsStaff(services, actor, 'give_links', async ({ tx, now }) => {
    if ((await findWorkOrder(tx, workOrderId)) === null)
      return refuse('not_found', 'There is no such work order.');
    const rows = await listAccessLinks(tx, workOrderId);
    return ok(
      rows.map(({ id, purpose, personId, workOrderId, madeAt, expiresAt, revokedAt }) => ({
        id,
        purpose,
        personId,
        workOrderId,
        madeAt,
        expiresAt,
        revokedAt,
        opens: revokedAt === null && isBefore(now, expiresAt),
      })),
    );
  });
}
