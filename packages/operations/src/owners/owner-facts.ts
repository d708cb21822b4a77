import {
  type AcceptanceRequest,
  type Business,
  findAcceptanceRequest,
  findBusiness,
  listContactNames,
  type TenantTransaction,
  type WorkOrderRow,
} from '@grainwright/db';
import {
  type AcceptanceRule,
  type AccountId,
  ok,
  type Result,
  refuse,
  type SignerRole,
} from '@grainwright/domain';
import { acceptanceFacts } from '../evidence/acceptance-facts.ts';
import type { FromTheBusiness } from '../evidence/acceptance-to-show.ts';
import type { OpenedLink } from '../links/open-link.ts';
import type { Services } from '../services.ts';
import { toldAtHandOver } from '../work-orders/cautions.ts';
import { type WorkHeading, workHeading } from '../work-orders/work-heading.ts';
import { readWork } from '../work-orders/work-lines.ts';

/** A link that a vehicle's owner came by. */
export type OwnersLinkOpened = Extract<OpenedLink, { purpose: 'acceptance' }>;

/** What the business itself knows and the vehicle owner's role can't read. */
export interface OwnerFacts {
  readonly business: Business;
  readonly accountId: AccountId;
  readonly workOrder: WorkHeading;
  readonly reworkOfId: WorkOrderRow['reworkOfId'];
  readonly rule: AcceptanceRule;
  /** As whom the answer is given. */
  readonly signer: SignerRole;
  readonly payerNames: readonly string[];
  readonly payerOwnsVehicle: boolean;
  /** Why nothing can be answered, where that is so. */
  readonly from: Result<FromTheBusiness>;
  /** How to care for the repair, in sentences. */
  readonly expect: readonly string[];
  readonly request: AcceptanceRequest;
}

/**
 * Reads them as the staff would, for this one work order. By a link no prices are shown, whatever was agreed for the
 * phone that is turned round: nobody sees who holds the link.
 */
export function ownerFacts(services: Services, link: OwnersLinkOpened): Promise<Result<OwnerFacts>> {
  const { tenantId } = link;
  return services.database.withTenant({ role: 'staff', tenantId }, (tx) => readOwnerFacts(tx, link));
}

/** As `ownerFacts`, in a transaction of the staff's role. */
export async function readOwnerFacts(
  tx: TenantTransaction,
  link: Pick<OwnersLinkOpened, 'id' | 'workOrderId'>,
): Promise<Result<OwnerFacts>> {
  const work = await readWork({ tx }, link.workOrderId);
  const business = await findBusiness(tx);
  const request = await findAcceptanceRequest(tx, link.id);
  if (!work.ok || business === null || request === null)
    return refuse('not_found', 'There is no such work order.');
  const { account, workOrder } = work.value;
  const withoutPrices = { ...work.value, account: { ...account, showsPricesAtAcceptance: false } };
  return ok({
    business,
    accountId: account.id,
    workOrder: workHeading(work.value),
    reworkOfId: workOrder.reworkOfId,
    rule: account.acceptanceRule,
    signer: account.acceptanceRule === 'account_representative' ? 'account_representative' : 'vehicle_owner',
    payerNames: await listContactNames(tx, account.id),
    payerOwnsVehicle: account.kind === 'retail',
    from: await acceptanceFacts({ tx, business }, withoutPrices),
    expect: toldAtHandOver(work.value),
    request,
  });
}
