import {
  type DocumentToPay,
  findAccount,
  listDocumentsToPay,
  listGroupOf,
  listUnappliedPayments,
} from '@grainwright/db';
import {
  type AccountId,
  type Day,
  type InvoiceId,
  ok,
  type PaymentId,
  type Result,
  refuse,
} from '@grainwright/domain';
import { type Actor, performAsStaff } from '../perform.ts';
import type { Services } from '../services.ts';
import type { PaymentMethod } from './payment-view.ts';

/** What has to be known when money of an account comes in. Amounts are minor units of `currency`. */
export interface PaymentEntryView {
  readonly account: { readonly id: AccountId; readonly name: string; readonly shortName: string };
  readonly currency: string;
  /** The account's own, oldest due first; a page of them. */
  readonly open: readonly DocumentToPay[];
  /** Where the next page goes on; null when this is the last. */
  readonly next: InvoiceId | null;
  /** What other accounts of the group have open; the payment may settle it too. */
  readonly ofGroup: readonly DocumentToPay[];
  readonly group: readonly { readonly id: AccountId; readonly name: string }[];
  /** Credit and deposits that are there already. */
  readonly unapplied: readonly {
    readonly id: PaymentId;
    readonly purpose: 'payment' | 'deposit';
    readonly method: PaymentMethod;
    readonly reference: string;
    readonly receivedOn: Day;
    readonly unappliedMinor: bigint;
  }[];
  readonly appliesMoneyItself: boolean;
}

const rowsOfAPage = 100;
const groupMax = 50;
const unappliedMax = 50;

/** What an account and its group have open and in credit, for whoever records a payment. */
export function readPaymentEntry(
  services: Services,
  actor: Actor,
  input: { readonly accountId: AccountId; readonly past: InvoiceId | null },
): Promise<Result<PaymentEntryView>> {
  return performAsStaff(services, actor, 'see_payments', async ({ tx, business }) => {
    const account = await findAccount(tx, input.accountId);
    if (account === null) return refuse('not_found', 'There is no such account.');
    const { id, name, shortName, appliesMoneyItself } = account;
    const { past } = input;
    const found = await listDocumentsToPay(tx, { accountIds: [id], past, limit: rowsOfAPage + 1 });
    const open = found.slice(0, rowsOfAPage);
    const group = await listGroupOf(tx, id, groupMax);
    const accountIds = group.map((other) => other.id);
    return ok({
      account: { id, name, shortName },
      currency: business.currency,
      open,
      next: found.length > rowsOfAPage ? (open.at(-1)?.id ?? null) : null,
      ofGroup: await listDocumentsToPay(tx, { accountIds, past: null, limit: rowsOfAPage }),
      group,
      unapplied: await listUnappliedPayments(tx, id, unappliedMax),
      appliesMoneyItself,
    });
  });
}
