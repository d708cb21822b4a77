import { type Business, findAccountName } from '@grainwright/db';
import {
  type AccountId,
  type AnswerRight,
  type Day,
  furthestRight,
  ok,
  type PersonId,
  type Result,
  type Role,
} from '@grainwright/domain';
import { type Actor, perform } from '../perform.ts';
import type { Services } from '../services.ts';
import { pricesByHand } from '../work-orders/line-change.ts';

export interface Me {
  readonly name: string;
  readonly personId: PersonId;
  readonly role: Role;
  readonly limitMinor: bigint | null;
  /** Whether they may give a line a price by hand. */
  readonly pricesByHand: boolean;
  /** How far they may answer estimates just now, and in whose place; null: not at all. */
  readonly answers: AnswerRight | null;
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
      personId: member.personId,
      role: member.role,
      limitMinor: 'limitMinor' in member ? member.limitMinor : null,
      pricesByHand: pricesByHand(member),
      answers: 'delegated' in member ? furthestRight(member) : null,
      accountId: actor.accountId,
      accountName: actor.accountId === null ? null : await findAccountName(tx, actor.accountId),
      business,
      today,
    }),
  );
}
