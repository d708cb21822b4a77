import { assertShare } from '../money/decimal.ts';
import type { PriceTerms } from './price-book.ts';

/**
 * Price rule 10: the deposit that an estimate's total (with tax) asks for: the terms' share, rounded up to the
 * next step, never more than the total; zero below the threshold. Who is asked for one is the account's
 * setting. Common practice of the trade.
 */
export function depositMinor(
  totalMinor: bigint,
  terms: Pick<PriceTerms, 'depositFromMinor' | 'depositPercent' | 'depositStepMinor'>,
): bigint {
  assertShare(terms.depositPercent, 'the deposit');
  if (totalMinor <= 0n || totalMinor < terms.depositFromMinor) return 0n;
  const divisor = 10n ** BigInt(terms.depositPercent.scale + 2) * terms.depositStepMinor;
  const steps = (totalMinor * terms.depositPercent.digits + divisor - 1n) / divisor;
  const deposit = steps * terms.depositStepMinor;
  if (deposit > totalMinor) return totalMinor;
  return deposit;
}
