import { assertShare, type Decimal } from '../money/decimal.ts';
import { roundHalfUp } from '../money/money.ts';

/**
 * A technician's commission on one vehicle: a percent of its repair labor (minimum included, after-hours not),
 * rounded per vehicle. After a credit it is computed again on the labor that remains. Common practice.
 */
export function commissionMinor(repairLaborMinor: bigint, ratePercent: Decimal): bigint {
  assertShare(ratePercent, 'a commission');
  return roundHalfUp(repairLaborMinor, ratePercent);
}
