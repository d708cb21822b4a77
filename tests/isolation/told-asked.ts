import type { VersionId } from '@grainwright/domain';
import { askForApproval, listLinks } from '@grainwright/operations';
import { must } from '../support/world.ts';
import type { Teller, ToldWork } from './told-work.ts';

/** Asks by mail for an answer to work that waits: the link that went out, and the question. */
export async function tellAsked({ account }: Teller, { workOrder, version }: ToldWork) {
  const { world, tenantId, owner } = account.business;
  if (version === '') throw new Error('nothing was sent');
  must(await askForApproval(world.services, { tenantId, versionId: version satisfies VersionId }));
  const [link] = must(await listLinks(world.services, owner, workOrder));
  if (link === undefined) throw new Error('nobody was asked');
  return { approvalLink: link.id, firstApprover: account.approver.personId };
}
