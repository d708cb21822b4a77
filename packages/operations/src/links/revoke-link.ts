import { isLinkAbout, revokeAccessLinks } from '@grainwright/db';
import { type AccessLinkId, ok, type Result, refuse, type WorkOrderId } from '@grainwright/domain';
import { type Actor, performAsStaff, record } from '../perform.ts';
import type { Services } from '../services.ts';

export interface RevokeLinkInput {
  readonly workOrderId: WorkOrderId;
  readonly linkId: AccessLinkId;
}

/**
 * Takes a link about a work order back, at once and for good. Repeating it changes nothing. Refuses with `not_found`.
 */
export function revokeLink(
  services: Services,
  actor: Actor,
  { workOrderId, linkId: id }: RevokeLinkInput,
): Promise<Result<void>> {
  return performAsStaff(services, actor, 'give_links', async (scope) => {
    if (!(await isLinkAbout(scope.tx, id, workOrderId))) return refuse('not_found', 'There is no such link.');
    const revoked = await revokeAccessLinks(scope.tx, { id }, scope.now);
    if (revoked > 0) await record(scope, 'link_revoked', { kind: 'access_link', id });
    return ok(undefined);
  });
}
