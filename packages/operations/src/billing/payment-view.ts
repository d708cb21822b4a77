import {
  type FoundApplication,
  type FoundPayment,
  findPayment,
  listApplicationsOfPayments,
} from '@grainwright/db';
import type { AccountId, ApplicationId, Day, Instant, InvoiceId, PaymentId } from '@grainwright/domain';
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

/** A payment and what of it has settled something. Amounts are minor units of `currency`. */
export interface PaymentView {
  readonly id: PaymentId;
  readonly accountId: AccountId;
  readonly accountName: string;
  readonly method: PaymentMethod;
  readonly reference: string;
  readonly amountMinor: bigint;
  /** What settles nothing yet: account credit. */
  readonly unappliedMinor: bigint;
  readonly currency: string;
  readonly receivedOn: Day;
  readonly recordedAt: Instant;
  readonly applications: readonly {
    readonly id: ApplicationId;
    readonly invoiceId: InvoiceId;
    readonly invoiceNumber: string;
    readonly amountMinor: bigint;
    readonly appliedOn: Day;
  }[];
}

export async function paymentViewOf({ tx }: Scope, id: PaymentId): Promise<PaymentView> {
  const found = await findPayment(tx, id);
  if (found === null) throw new Error('a payment that was just there is gone');
  return paymentView(found, await listApplicationsOfPayments(tx, [id]));
}

/** `applications` may be those of other payments as well. */
export function paymentView(payment: FoundPayment, applications: readonly FoundApplication[]): PaymentView {
  const { recordedBy: _recordedBy, ...shown } = payment;
  return {
    ...shown,
    applications: applications
      .filter((application) => application.paymentId === payment.id)
      .map(({ id, invoiceId, invoiceNumber, amountMinor, appliedOn }) => ({
        id,
        invoiceId,
        invoiceNumber,
        amountMinor,
        appliedOn,
      })),
  };
}
