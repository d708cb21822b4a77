import {
  type AskableApproverRow,
  findEstimate,
  findWorkOrder,
  type JoinedWorkOrder,
  listShownLines,
  type StoredEstimate,
} from '@grainwright/db';
import type { VersionId, WorkOrderId } from '@grainwright/domain';
import type { JobScope } from '../job-scope.ts';
import { comparedOf } from '../work-orders/answer-by-rule.ts';
import { subjectOf } from '../work-orders/load-work-order.ts';
import { loadQuotes, replaceableLines } from '../work-orders/replacement-view.ts';
import { priceStored } from '../work-orders/stored-estimate.ts';
import { numberWords, vehicleWords } from '../work-orders/vehicle-words.ts';

/** An estimate that somebody is asked about, in the words of a mail. Amounts are minor units of `currency`. */
export interface AskedEstimate {
  readonly workOrderId: WorkOrderId;
  readonly number: bigint;
  readonly versionId: VersionId;
  readonly estimate: StoredEstimate;
  readonly found: JoinedWorkOrder;
  readonly vehicle: string;
  /** E.g. “stock number PL-251, RO 48213”; empty without any. */
  readonly numbers: string;
  readonly currency: string;
  readonly totalMinor: bigint;
  /** Repairs, after-hours and rush, before trip and tax: what a limit is compared with. */
  readonly comparedMinor: bigint;
  /** Before tax, as it is compared with a new part. */
  readonly netMinor: bigint;
  /** What new parts were quoted at; null without a quote. */
  readonly newPartMinor: bigint | null;
}

/** A version with all that a mail says of it. Throws where it is not there. */
export async function askedEstimateOf(scope: JobScope, versionId: VersionId): Promise<AskedEstimate> {
  const { tx } = scope;
  const estimate = await findEstimate(tx, versionId);
  const found = estimate === null ? null : await findWorkOrder(tx, estimate.version.workOrderId);
  if (estimate === null || found === null) throw new Error(`there is no version ${versionId}`);
  const { workOrder, vehicle, account } = found;
  const rows = await listShownLines(tx, workOrder.id);
  const { replacement } = await loadQuotes(
    scope,
    workOrder.id,
    replaceableLines(rows, () => false),
  );
  const { ownNumber: own, roNumber: ro, poNumber: po } = workOrder;
  return {
    workOrderId: workOrder.id,
    number: workOrder.number,
    versionId,
    estimate,
    found,
    vehicle: vehicleWords(vehicle, own),
    numbers: numberWords({ ownKind: account.ownNumberKind, own, ro, po }),
    currency: estimate.version.currency,
    totalMinor: estimate.version.totalMinor,
    comparedMinor: comparedOf(estimate),
    netMinor: priceStored(estimate, subjectOf(found)).visit.netMinor,
    newPartMinor: replacement?.minor ?? null,
  };
}

/** Whether it waits for an answer that somebody may still give. */
export function stillWaits({ found: { workOrder }, estimate }: AskedEstimate, { today }: JobScope): boolean {
  return (
    workOrder.state === 'awaiting_approval' &&
    workOrder.currentVersionId === estimate.version.id &&
    estimate.version.expiresOn >= today
  );
}

/** Somebody who is asked, and how far their yes goes. */
export type Asked = Pick<AskableApproverRow, 'personId' | 'name' | 'limitMinor'>;
