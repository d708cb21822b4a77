import {
  type FoundInvoice,
  findInvoice,
  type LockedInvoice,
  lockInvoiceBalances,
  sumCreditedOfInvoice,
} from '@grainwright/db';
import { dayWords, displayMoney, type InvoiceId, ok, type Result, refuse } from '@grainwright/domain';
import type { Scope } from '../perform.ts';

/** An invoice that nobody else settles, credits or voids until the transaction ends. */
export interface OpenedInvoice {
  readonly invoice: FoundInvoice;
  readonly locked: LockedInvoice;
}

/** Locks what is open of an invoice, then reads it. Refuses with `not_found`. */
export async function openInvoice({ tx }: Scope, id: InvoiceId): Promise<Result<OpenedInvoice>> {
  const first = await findInvoice(tx, id);
  if (first === null) return refuse('not_found', 'There is no such invoice.');
  const [locked] = await lockInvoiceBalances(tx, first.accountId, [id]);
  const invoice = await findInvoice(tx, id);
  if (locked === undefined || invoice === null) throw new Error('an invoice without what is open of it');
  return ok({ invoice, locked });
}

/** Refuses with `wrong_state` what happens only to an invoice that stands. */
export function stands({ number, voidedOn }: FoundInvoice): Result<true> {
  return voidedOn === null
    ? ok(true)
    : refuse(
        'wrong_state',
        `${number} was voided on ${dayWords(voidedOn)}. Nothing can be settled on it any more.`,
      );
}

/** Refuses with `wrong_state` to let go of what a credit note on the invoice could still settle: apply that first. */
export async function creditIsApplied(
  { tx }: Scope,
  { invoice: { id, number, currency }, locked }: OpenedInvoice,
  amountMinor: bigint,
): Promise<Result<true>> {
  const { unappliedMinor } = await sumCreditedOfInvoice(tx, id);
  if (unappliedMinor === 0n || amountMinor <= locked.openMinor - unappliedMinor) return ok(true);
  return refuse(
    'wrong_state',
    `${displayMoney(unappliedMinor, currency)} was credited on ${number} and settles nothing yet. Apply that credit note to ${number} first.`,
  );
}
