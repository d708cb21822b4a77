import { createHash } from 'node:crypto';
import type { MembershipId } from '@grainwright/domain';

/** Names whoever a form is drawn for without telling who that is. */
export function drawnFor(membershipId: MembershipId): string {
  return createHash('sha256').update(`a form of ${membershipId}`).digest('base64url').slice(0, 22);
}
