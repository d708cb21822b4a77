import { findAccountName, listStandingApprovalRows } from '@grainwright/db';
import { type AccountId, ok, type Result, refuse } from '@grainwright/domain';
import { type Actor, perform } from '../perform.ts';
import type { Services } from '../services.ts';
import { type StandingApprovalView, standingApprovalView } from './standing-approval-view.ts';

export interface StandingApprovalList {
  readonly currency: string;
  readonly approvals: readonly StandingApprovalView[];
}

/** What the account agreed to beforehand, the newest first. Contacts see their own account's. */
export function listStandingApprovals(
  services: Services,
  actor: Actor,
  accountId: AccountId,
): Promise<Result<StandingApprovalList>> {
  return perform(services, actor, 'see_work_orders', async ({ tx, today, business }) => {
    if ((await findAccountName(tx, accountId)) === null)
      return refuse('not_found', 'There is no such account.');
    const rows = await listStandingApprovalRows(tx, accountId);
    return ok({
      currency: business.currency,
      approvals: rows.map((row) => standingApprovalView(row, today, business.currency)),
    });
  });
}
