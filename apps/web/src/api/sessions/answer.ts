import type { SignedIn } from '@grainwright/operations';
import type { z } from 'zod';
import type { sessionAnswer } from './schemas.ts';

export function answerWith({ session, memberships }: SignedIn): z.input<typeof sessionAnswer> {
  return {
    token: session.id,
    membership_id: session.membershipId,
    memberships: memberships.map((each) => ({
      id: each.id,
      tenant_name: each.tenantName,
      kind: each.accountId === null ? 'staff' : 'contact',
    })),
  };
}
