import {
  type AccountPriceRow,
  type AccountRow,
  type CertificateRow,
  type ContactListRow,
  type ContractRow,
  findAccount,
  findAccountGroup,
  findAccountName,
  findTaxAreaCode,
  findTier,
  listAccountPrices,
  listCertificates,
  listContacts,
  listContracts,
  listDelegationRows,
  listPredecessors,
  listPurchaseOrderRows,
  listSites,
  listStandingApprovalRows,
  type SiteRow,
  type TierWithTerms,
} from '@grainwright/db';
import {
  type AccountId,
  allows,
  type CertificateWarning,
  type Day,
  daysBetween,
  ok,
  type Result,
  refuse,
  type Tier,
  tierInForce,
} from '@grainwright/domain';
import { type DelegationView, delegationView } from '../delegations/delegation-view.ts';
import { type Actor, performAsStaff, type Scope } from '../perform.ts';
import type { Services } from '../services.ts';
import { purchaseOrderView } from '../work-orders/purchase-order-view.ts';
import type { PurchaseOrderView } from '../work-orders/work-order-view.ts';
import { certificateWarnings } from './certificate-warnings.ts';
import { type StandingApprovalView, standingApprovalView } from './standing-approval-view.ts';

/** Where a certificate stands on a day. `ending` warns ahead: from the day after its last, tax is charged. */
export type CertificateStanding = 'not_yet' | 'valid' | 'ending' | 'expired';

export interface AccountView {
  readonly account: AccountRow;
  /** With the terms of today. */
  readonly tier: Tier;
  readonly taxAreaCode: string;
  readonly sites: readonly SiteRow[];
  readonly contacts: readonly (ContactListRow & { readonly hasEnded: boolean })[];
  readonly certificates: readonly (CertificateRow & { readonly standing: CertificateStanding })[];
  /** What to ask for in time; null while all is well. */
  readonly certificateWarning: CertificateWarning | null;
  readonly prices: readonly AccountPriceRow[];
  /** What was agreed for a time, the first one first. */
  readonly contracts: readonly ContractRow[];
  readonly groupName: string | null;
  /** Who took it over, and whom it took over. */
  readonly successor: AccountRef | null;
  readonly predecessors: readonly AccountRef[];
  /** What was agreed to beforehand, the newest first. */
  readonly standingApprovals: readonly StandingApprovalView[];
  /** With what was invoiced on them; empty for who may not see invoices. */
  readonly purchaseOrders: readonly PurchaseOrderView[];
  /** Who of the account answers for whom, the latest first. */
  readonly delegations: readonly DelegationView[];
  readonly today: Day;
  readonly currency: string;
}

export interface AccountRef {
  readonly id: AccountId;
  readonly name: string;
}

/** Everything about one account, as the staff see it. */
export function readAccount(services: Services, actor: Actor, id: AccountId): Promise<Result<AccountView>> {
  return performAsStaff(services, actor, 'see_accounts', async (scope) => {
    const { tx, today, business } = scope;
    const account = await findAccount(tx, id);
    if (account === null) return refuse('not_found', 'There is no such account.');
    const tier = await findTier(tx, account.tierCode);
    if (tier === null) throw new Error('an account names a tier that is not there');
    const contacts = await listContacts(tx, id);
    const certificates = await listCertificates(tx, id);
    return ok({
      account,
      tier: tierToday(tier, today),
      taxAreaCode: await findTaxAreaCode(tx, account.taxAreaId),
      sites: await listSites(tx, id),
      contacts: contacts.map((each) => ({
        ...each,
        hasEnded: each.endedOn !== null && each.endedOn <= today,
      })),
      certificates: certificates.map((each) => ({
        ...each,
        standing: standingOf(each, today, business.certificateWarningDays),
      })),
      certificateWarning: (await certificateWarnings(scope, [id], today)).get(id) ?? null,
      prices: await listAccountPrices(tx, id),
      delegations: (await listDelegationRows(tx, id, today)).map((row) => delegationView(row, today)),
      contracts: await listContracts(tx, id),
      ...(await agreedWith(scope, account)),
      today,
      currency: business.currency,
    });
  });
}

function tierToday({ code, name, terms }: TierWithTerms, today: Day): Tier {
  const dated = terms.map((row) => ({
    code,
    name,
    discountPercent: row.discountPercent,
    vehicleMinimumMinor: row.vehicleMinimumMinor,
    vehicleCapMinor: row.vehicleCapMinor,
    visitMinimumMinor: row.visitMinimumMinor,
    tripWaivedFromMinor: row.tripWaivedFromMinor,
    inForce: { from: row.validFrom, to: row.validTo },
  }));
  return tierInForce(dated, today);
}

async function agreedWith(
  { tx, today, business, member }: Scope,
  { id, groupId, successorId }: AccountRow,
): Promise<
  Pick<AccountView, 'groupName' | 'successor' | 'predecessors' | 'standingApprovals' | 'purchaseOrders'>
> {
  const successorName = successorId === null ? null : await findAccountName(tx, successorId);
  const approvals = await listStandingApprovalRows(tx, id);
  const orders = allows(member.role, 'see_invoices') ? await listPurchaseOrderRows(tx, id) : [];
  return {
    groupName: groupId === null ? null : ((await findAccountGroup(tx, groupId))?.name ?? null),
    successor:
      successorId === null || successorName === null ? null : { id: successorId, name: successorName },
    predecessors: await listPredecessors(tx, id),
    standingApprovals: approvals.map((row) => standingApprovalView(row, today, business.currency)),
    purchaseOrders: orders.map((row) => purchaseOrderView(row, today)),
  };
}

function standingOf(
  { validFrom, validTo }: CertificateRow,
  today: Day,
  warnedDays: number,
): CertificateStanding {
  if (today < validFrom) return 'not_yet';
  if (validTo === null) return 'valid';
  const daysLeft = daysBetween(today, validTo);
  if (daysLeft < 0) return 'expired';
  return daysLeft <= warnedDays ? 'ending' : 'valid';
}
