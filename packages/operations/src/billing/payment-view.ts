import {
  type FoundApplication,
  type FoundPayment,
  findPayment,
  listApplicationsOfPayments,
  listRefundsOf,
  type RefundRow,
  sumMovedOut,
} from '@grainwright/db';
import {
  type AccountId,
  type ApplicationId,
  type Day,
  type Instant,
  type InvoiceId,
  type PaymentId,
  type RefundId,
  sumMinor,
  type WorkOrderId,
} from '@grainwright/domain';
import type { Scope } from '../perform.ts';

/** The ways in which money comes in, with their names on pages. */
export const paymentMethods = {
  check: 'check',
  card: 'card',
  ach: 'ACH transfer',
  cash: 'cash',
  moved: 'credit moved from another account',
  brought_forward: 'credit brought forward',
} as const satisfies Record<string, string>;
export type PaymentMethod = keyof typeof paymentMethods;

/** Where a payment stands: it is worth something until it came back, was paid back or was moved as a whole. */
export type PaymentState = 'received' | 'returned' | 'refunded' | 'moved';

/** A payment or deposit and what became of it. Amounts are minor units of `currency`. */
export interface PaymentView {
  readonly id: PaymentId;
  readonly accountId: AccountId;
  readonly accountName: string;
  readonly method: PaymentMethod;
  readonly purpose: 'payment' | 'deposit';
  /** Whose work a deposit is for; null: whatever is invoiced next. */
  readonly workOrderId: WorkOrderId | null;
  readonly reference: string;
  readonly amountMinor: bigint;
  /** What settles nothing yet: account credit, or a deposit held. */
  readonly unappliedMinor: bigint;
  readonly currency: string;
  readonly receivedOn: Day;
  readonly recordedAt: Instant;
  readonly state: PaymentState;
  readonly returnedOn: Day | null;
  /** Paid back, with fees kept. */
  readonly refundedMinor: bigint;
  /** At other accounts of the group. */
  readonly movedMinor: bigint;
  readonly refunds: readonly RefundView[];
  readonly applications: readonly ApplicationView[];
}

export interface RefundView {
  readonly id: RefundId;
  /** What was taken off the payment. */
  readonly amountMinor: bigint;
  /** Of which this was kept as a fee. */
  readonly feeKeptMinor: bigint;
  readonly currency: string;
  readonly method: PaymentMethod;
  readonly reference: string;
  readonly refundedOn: Day;
}

export interface ApplicationView {
  readonly id: ApplicationId;
  readonly invoiceId: InvoiceId;
  readonly invoiceNumber: string;
  readonly amountMinor: bigint;
  readonly appliedOn: Day;
  /** The account has its money applied without anybody asking. */
  readonly byRule: boolean;
  /** From that day on it settles nothing any more; null while it does. */
  readonly unappliedOn: Day | null;
  readonly unappliedReason: string | null;
}

export async function paymentViewOf(scope: Pick<Scope, 'tx'>, id: PaymentId): Promise<PaymentView> {
  const found = await findPayment(scope.tx, id);
  if (found === null) throw new Error('a payment that was just there is gone');
  const [view] = await paymentViews(scope, [found]);
  if (view === undefined) throw new Error('a payment has no view');
  return view;
}

/** The payments with what became of them, in the same order. */
export async function paymentViews(
  { tx }: Pick<Scope, 'tx'>,
  payments: readonly FoundPayment[],
): Promise<readonly PaymentView[]> {
  if (payments.length === 0) return [];
  const ids = payments.map((payment) => payment.id);
  const applications = await listApplicationsOfPayments(tx, ids);
  const refunds = await listRefundsOf(tx, ids);
  const moved = await sumMovedOut(tx, ids);
  return payments.map((payment) =>
    paymentView(payment, {
      applications: applications.filter((application) => application.paymentId === payment.id),
      refunds: refunds.filter((refund) => refund.paymentId === payment.id),
      movedMinor: moved.get(payment.id) ?? 0n,
    }),
  );
}

interface Became {
  readonly applications: readonly FoundApplication[];
  readonly refunds: readonly RefundRow[];
  readonly movedMinor: bigint;
}

function paymentView(payment: FoundPayment, became: Became): PaymentView {
  const { recordedBy: _recordedBy, ...shown } = payment;
  const { movedMinor } = became;
  const refundedMinor = sumMinor(became.refunds.map((refund) => refund.amountMinor));
  return {
    ...shown,
    state: stateOf(payment, refundedMinor, movedMinor),
    refundedMinor,
    movedMinor,
    refunds: became.refunds.map(({ id, amountMinor, feeKeptMinor, method, reference, refundedOn }) => ({
      id,
      amountMinor,
      feeKeptMinor,
      currency: payment.currency,
      method,
      reference,
      refundedOn,
    })),
    applications: became.applications.map((application) => ({
      id: application.id,
      invoiceId: application.invoiceId,
      invoiceNumber: application.invoiceNumber,
      amountMinor: application.amountMinor,
      appliedOn: application.appliedOn,
      byRule: application.byRule,
      unappliedOn: application.unappliedOn,
      unappliedReason: application.unappliedReason,
    })),
  };
}

function stateOf(payment: FoundPayment, refundedMinor: bigint, movedMinor: bigint): PaymentState {
  if (payment.returnedOn !== null) return 'returned';
  if (refundedMinor === payment.amountMinor) return 'refunded';
  return movedMinor === payment.amountMinor ? 'moved' : 'received';
}
