import { type Business, findAccountName } from '@grainwright/db';
import { type AccountId, type Day, ok, type Result, type Role } from '@grainwright/domain';
import { type Actor, perform } from '../perform.ts';
import type { Services } from '../services.ts';

export interface Me {
  readonly name: string;
  readonly role: Role;
  readonly limitMinor: bigint | null;
  readonly accountId: AccountId | null;
  readonly accountName: string | null;
  readonly business: Business;
  readonly today: Day;
}

/** Who the actor is here: name, role, business, and the business's own day. */
export function readMe(services: Services, actor: Actor): Promise<Result<Me>> {
  return perform(services, actor, 'see_work_orders', async ({ tx, member, business, today }) =>
    ok({
      name: member.name,
      role: member.role,
      limitMinor: 'limitMinor' in member ? member.limitMinor : null,
      accountId: actor.accountId,
      accountName: actor.accountId === null ? null : await findAccountName(tx, actor.accountId),
      business,
      today,
    }),
  );
}
