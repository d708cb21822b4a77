import {
  type AccountPerson,
  findOwnAccount,
  listAccountPeople,
  listCertificates,
  listDelegationRows,
  listHandedInRows,
  listPurchaseOrderRows,
  listSites,
  listStandingApprovalRows,
  type OwnAccount,
} from '@grainwright/db';
import { type CertificateWarning, certificateWarning, type Day, ok, type Result } from '@grainwright/domain';
import { type HandedInView, handedInView } from '../accounts/handed-in-view.ts';
import { type StandingApprovalView, standingApprovalView } from '../accounts/standing-approval-view.ts';
import { type DelegationView, delegationView } from '../delegations/delegation-view.ts';
import { type Actor, performAsContact } from '../perform.ts';
import type { Services } from '../services.ts';
import { purchaseOrderView } from '../work-orders/purchase-order-view.ts';
import type { PurchaseOrderView } from '../work-orders/work-order-view.ts';

/** What an account's own people see of it. Amounts are minor units of `currency`. */
export interface OwnAccountView {
  readonly account: OwnAccount;
  readonly currency: string;
  readonly people: readonly (AccountPerson & { readonly hasEnded: boolean })[];
  readonly sites: readonly { readonly id: string; readonly name: string; readonly address: string }[];
  readonly standingApprovals: readonly StandingApprovalView[];
  readonly purchaseOrders: readonly PurchaseOrderView[];
  /** Who answers for whom, the latest first. */
  readonly delegations: readonly DelegationView[];
  readonly certificates: readonly {
    readonly id: string;
    readonly kind: 'resale' | 'exempt_use';
    readonly number: string;
    readonly validFrom: Day;
    readonly validTo: Day | null;
    readonly standing: 'not_yet' | 'valid' | 'ended';
  }[];
  readonly certificateWarning: CertificateWarning | null;
  /** What was handed in and is not filed: it waits for the business, or was not taken. The latest first. */
  readonly handedIn: readonly HandedInView[];
}

/** People, limits, agreements, papers and terms of the contact's own account. */
export function readOwnAccount(services: Services, actor: Actor): Promise<Result<OwnAccountView>> {
  return performAsContact(services, actor, 'see_work_orders', async ({ tx, member, today, business }) => {
    const { accountId } = member;
    const account = await findOwnAccount(tx, accountId);
    if (account === null) throw new Error('a contact has no account');
    const people = await listAccountPeople(tx, accountId);
    const sites = await listSites(tx, accountId);
    const approvals = await listStandingApprovalRows(tx, accountId);
    const orders = await listPurchaseOrderRows(tx, accountId);
    const delegations = await listDelegationRows(tx, accountId, today);
    const certificates = await listCertificates(tx, accountId);
    const handedIn = await listHandedInRows(tx, { accountId, waitingOnly: false, limit: handedInMax });
    const held = certificates.map(({ kind, number, validFrom, validTo }) => ({
      kind,
      number,
      valid: { from: validFrom, to: validTo },
    }));
    return ok({
      account,
      currency: business.currency,
      people: people.map((each) => ({ ...each, hasEnded: each.endedOn !== null && each.endedOn <= today })),
      sites: sites.map(({ id, name, address }) => ({ id, name, address })),
      standingApprovals: approvals.map((row) => standingApprovalView(row, today, business.currency)),
      purchaseOrders: orders.map((row) => purchaseOrderView(row, today)),
      delegations: delegations.map((row) => delegationView(row, today)),
      certificates: certificates.map(({ id, kind, number, validFrom, validTo }) => ({
        id,
        kind,
        number,
        validFrom,
        validTo,
        standing: today < validFrom ? 'not_yet' : validTo !== null && validTo < today ? 'ended' : 'valid',
      })),
      certificateWarning: certificateWarning(held, today, business.certificateWarningDays),
      handedIn: handedIn.map(handedInView).filter((each) => each.standing !== 'confirmed'),
    });
  });
}

const handedInMax = 50;
