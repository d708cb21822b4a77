import { addDays, type Day } from '../dates.ts';
import { assertShare, type Decimal } from '../money/decimal.ts';
import { roundHalfUp } from '../money/money.ts';

/** Terms such as 2 % when paid within 10 days of the invoice, written 2/10. */
export interface EarlyPaymentTerms {
  readonly percent: Decimal;
  readonly days: number;
}

export interface EarlyPayment {
  readonly terms: EarlyPaymentTerms;
  readonly issuedOn: Day;
  readonly paidOn: Day;
  /** What the percent is taken of: the invoice less its credits, with or without tax as the tenant chose. */
  readonly baseMinor: bigint;
}

/** The discount in minor units, half-up; zero from the day after the last day of the terms. */
export function earlyPaymentDiscount(payment: EarlyPayment): bigint {
  assertShare(payment.terms.percent, 'an early-payment discount');
  if (payment.paidOn > addDays(payment.issuedOn, payment.terms.days)) return 0n;
  return roundHalfUp(payment.baseMinor, payment.terms.percent);
}
