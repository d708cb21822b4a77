import { findPayment, listOpeningDocuments, type OpeningRow } from '@grainwright/db';
import type { AccountId, Day, InvoiceId, OpeningId, PaymentId } from '@grainwright/domain';
import type { Scope } from '../perform.ts';

/** What was taken over from older books. Amounts are minor units of `currency`. */
export interface OpeningView {
  readonly id: OpeningId;
  readonly accountId: AccountId;
  readonly broughtOn: Day;
  readonly currency: string;
  readonly items: readonly {
    readonly id: InvoiceId;
    readonly number: string;
    readonly issuedOn: Day;
    readonly dueOn: Day;
    readonly totalMinor: bigint;
  }[];
  /** Null where no credit came along. */
  readonly credit: { readonly paymentId: PaymentId; readonly amountMinor: bigint } | null;
}

export async function openingViewOf(
  { tx, business }: Pick<Scope, 'tx' | 'business'>,
  { id, accountId, broughtOn, paymentId }: OpeningRow,
): Promise<OpeningView> {
  const payment = paymentId === null ? null : await findPayment(tx, paymentId);
  return {
    id,
    accountId,
    broughtOn,
    currency: business.currency,
    items: await listOpeningDocuments(tx, id),
    credit: payment === null ? null : { paymentId: payment.id, amountMinor: payment.amountMinor },
  };
}
