import type {
  CertificateWarning,
  Day,
  DemandedNumber,
  InvoiceId,
  PurchaseOrderId,
  WorkOrderId,
} from '@grainwright/domain';
import type { DisputeView } from '../billing/dispute-view.ts';
import type { ToApproveView } from '../work-orders/list-to-approve.ts';
import type { WorkOrderView } from '../work-orders/work-order-view.ts';

/** What the business needs from an account. Amounts are minor units of `currency`. */
export interface NeedsView {
  readonly currency: string;
  readonly today: Day;
  /** The first few estimates that wait for an answer, and how many there are. */
  readonly estimates: readonly ToApproveView[];
  readonly estimateCount: number;
  readonly numbers: readonly NumbersNeed[];
  readonly purchaseOrders: readonly PurchaseOrderNeed[];
  readonly certificate: CertificateNeed | null;
  readonly acceptances: readonly AcceptanceNeed[];
  readonly disputes: readonly DisputeView[];
  /** Oldest due first; what is in dispute is not asked for. */
  readonly pastDue: readonly PastDueNeed[];
  /** Nothing of all this. */
  readonly nothing: boolean;
}

/** An invoice whose day of payment is past. */
export interface PastDueNeed {
  readonly invoiceId: InvoiceId;
  readonly number: string;
  readonly dueOn: Day;
  readonly days: number;
  /** What is open of it and not in dispute. */
  readonly openMinor: bigint;
}

/** A vehicle that is finished, and what its account knows it by. */
export interface FinishedVehicle {
  readonly workOrderId: WorkOrderId;
  readonly number: bigint;
  readonly vehicle: string;
  readonly numbers: WorkOrderView['numbers'];
  /** Null where it is not known. */
  readonly finishedOn: Day | null;
  readonly days: number;
}

/** Its invoice can't be issued without these. */
export interface NumbersNeed extends FinishedVehicle {
  readonly missing: readonly DemandedNumber[];
}

/** Somebody of the account has to accept it. */
export type AcceptanceNeed = FinishedVehicle;

/** A purchase order that what was approved on it does not fit on. */
export interface PurchaseOrderNeed {
  readonly id: PurchaseOrderId;
  readonly number: string;
  readonly capMinor: bigint;
  readonly leftMinor: bigint;
  /** Approved, and on no invoice yet; of a visit of several vehicles it may come to less. */
  readonly approvedMinor: bigint;
  readonly workOrders: number;
  /** What the cap is short of. */
  readonly shortMinor: bigint;
}

export interface CertificateNeed {
  readonly warning: CertificateWarning;
  /** The day from which work is taxed. */
  readonly taxedFrom: Day;
  /** Why the latest one that was handed in was not taken; empty where none was. */
  readonly notTaken: string;
}
