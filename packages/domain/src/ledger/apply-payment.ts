import type { Day } from '../dates.ts';
import { dayWords } from '../day-words.ts';
import { displayMoney } from '../money/money.ts';
import { ok, type Result, refuse } from '../result.ts';

/** The amounts as they stand under lock, in minor units. `invoiceNumber` is for the sentence of a refusal. */
export interface WantedApplication {
  readonly invoiceNumber: string;
  readonly invoiceOpenMinor: bigint;
  /** What of the payment, deposit or credit has settled nothing yet. */
  readonly unappliedMinor: bigint;
  readonly amountMinor: bigint;
  readonly currency: string;
  readonly on: Day;
  /** The day the invoice entered the ledger; what is dated before it could not be settled yet. */
  readonly invoicePostedOn: Day;
  /** The day the money was received or the credit given. */
  readonly receivedOn: Day;
}

export interface ApplicationOutcome {
  readonly invoiceOpenMinor: bigint;
  readonly unappliedMinor: bigint;
  /** True when nothing of the invoice is left open. */
  readonly settled: boolean;
}

/**
 * May this much of a payment settle this invoice, and what is left on either side? Refuses with
 * `invalid_money` an amount that is not above zero, with `over_payment` one above what the invoice has open or
 * the payment has left, and with `dates_out_of_order` a day before the invoice or the money was there.
 */
export function applyPayment(wanted: WantedApplication): Result<ApplicationOutcome> {
  const { amountMinor, invoiceNumber, invoiceOpenMinor, unappliedMinor } = wanted;
  const shown = (minor: bigint) => displayMoney(minor, wanted.currency);
  if (amountMinor <= 0n) return refuse('invalid_money', 'Apply an amount above zero.', 'amount');
  if (amountMinor > invoiceOpenMinor)
    return refuse(
      'over_payment',
      invoiceOpenMinor > 0n
        ? `Only ${shown(invoiceOpenMinor)} of ${invoiceNumber} is open. Apply that much at most.`
        : `Nothing of ${invoiceNumber} is open. Apply the money to another invoice.`,
      'amount',
    );
  if (amountMinor > unappliedMinor)
    return refuse(
      'over_payment',
      unappliedMinor > 0n
        ? `Only ${shown(unappliedMinor)} of the money is left to apply. Apply that much at most.`
        : 'All of the money is applied already.',
      'amount',
    );
  if (wanted.on < wanted.invoicePostedOn || wanted.on < wanted.receivedOn)
    return refuse(
      'dates_out_of_order',
      `${invoiceNumber} is of ${dayWords(wanted.invoicePostedOn)}, the money of ${dayWords(wanted.receivedOn)}. Apply it on the later day or after.`,
      'on',
    );
  return ok({
    invoiceOpenMinor: invoiceOpenMinor - amountMinor,
    unappliedMinor: unappliedMinor - amountMinor,
    settled: amountMinor === invoiceOpenMinor,
  });
}
