import { type AcceptedWorkOrder, listAccepted } from '@grainwright/db';
import {
  type AccountId,
  type Day,
  type DemandedNumber,
  demandedNumbers,
  missingNumbers,
  ok,
  type Result,
  type VisitId,
  type WorkOrderId,
} from '@grainwright/domain';
import { type Actor, performAsStaff } from '../perform.ts';
import type { Services } from '../services.ts';
import { documentNumbers, documentVehicle } from './billable-words.ts';

/** The accepted work of one visit that no invoice holds yet. */
export interface VisitToInvoice {
  readonly visitId: VisitId;
  readonly accountId: AccountId;
  readonly accountName: string;
  readonly siteName: string;
  readonly day: Day;
  readonly currency: string;
  readonly workOrders: readonly {
    readonly id: WorkOrderId;
    readonly number: bigint;
    readonly vehicle: string;
    readonly numbers: string;
    /** The numbers that the account demands on the invoice and has not given. */
    readonly missing: readonly DemandedNumber[];
    readonly repairsMinor: bigint;
  }[];
}

const workOrdersMax = 300;

/** What waits for an invoice, by visit, the longest waiting first. */
export function listReadyToInvoice(
  services: Services,
  actor: Actor,
): Promise<Result<readonly VisitToInvoice[]>> {
  return performAsStaff(services, actor, 'issue_invoice', async ({ tx, business }) => {
    const accepted = await listAccepted(tx, workOrdersMax);
    const byVisit = Map.groupBy(accepted, (row) => row.visitId);
    return ok([...byVisit.values()].flatMap((rows) => visitToInvoice(rows, business.currency)));
  });
}

function visitToInvoice(rows: readonly AcceptedWorkOrder[], currency: string): readonly VisitToInvoice[] {
  const [first] = rows;
  if (first === undefined) return [];
  const { visitId, accountId, accountName, siteName, day } = first;
  const workOrders = rows.map((row) => ({
    id: row.id,
    number: row.number,
    vehicle: documentVehicle(row.vehicle),
    numbers: documentNumbers(row, row),
    missing: missingNumbers(demandedNumbers(row, row)),
    repairsMinor: row.repairsMinor,
  }));
  return [{ visitId, accountId, accountName, siteName, day, currency, workOrders }];
}
