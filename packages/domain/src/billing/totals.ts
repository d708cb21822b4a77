import type { Decimal } from '../money/decimal.ts';
import { roundHalfUp, sumMinor } from '../money/money.ts';

/** What the totals of an invoice are made from, in minor units. */
export interface TotalsInput {
  readonly lineNetsMinor: readonly bigint[];
  readonly allowancesMinor: readonly bigint[];
  readonly chargesMinor: readonly bigint[];
  readonly taxGroups: readonly TaxGroup[];
  readonly prepaidMinor: bigint;
  /** Added to what is due, as where cash is rounded. */
  readonly roundingMinor: bigint;
}

/** The tax of one rate. */
export interface TaxGroup {
  /** BT-116 */
  readonly taxableMinor: bigint;
  /** BT-119 */
  readonly ratePercent: Decimal;
  /** BT-117 */
  readonly taxMinor: bigint;
  /** How far the tax may lie from base × rate, where it is a sum of parts rounded apart. */
  readonly slackMinor?: bigint;
}

/** The totals of EN 16931, each with its business term. */
export interface InvoiceTotals {
  /** BT-106 */
  readonly linesMinor: bigint;
  /** BT-107 */
  readonly allowancesMinor: bigint;
  /** BT-108 */
  readonly chargesMinor: bigint;
  /** BT-109 */
  readonly withoutTaxMinor: bigint;
  /** BT-110 */
  readonly taxMinor: bigint;
  /** BT-112 */
  readonly withTaxMinor: bigint;
  /** BT-113 */
  readonly prepaidMinor: bigint;
  /** BT-114 */
  readonly roundingMinor: bigint;
  /** BT-115; negative where more was prepaid than the invoice comes to. */
  readonly dueMinor: bigint;
}

/** Adds an invoice up as EN 16931 says, rules BR-CO-10 to BR-CO-16. */
export function totalInvoice(input: TotalsInput): InvoiceTotals {
  const linesMinor = sumMinor(input.lineNetsMinor);
  const allowancesMinor = sumMinor(input.allowancesMinor);
  const chargesMinor = sumMinor(input.chargesMinor);
  const withoutTaxMinor = linesMinor - allowancesMinor + chargesMinor;
  const taxMinor = sumMinor(input.taxGroups.map((group) => group.taxMinor));
  const withTaxMinor = withoutTaxMinor + taxMinor;
  return {
    linesMinor,
    allowancesMinor,
    chargesMinor,
    withoutTaxMinor,
    taxMinor,
    withTaxMinor,
    prepaidMinor: input.prepaidMinor,
    roundingMinor: input.roundingMinor,
    dueMinor: withTaxMinor - input.prepaidMinor + input.roundingMinor,
  };
}

/** The names of the EN 16931 rules that stated totals break; none when they hold. */
export function brokenTotals(input: TotalsInput, stated: InvoiceTotals): readonly string[] {
  const sums = totalInvoice(input);
  const checks: readonly (readonly [string, boolean])[] = [
    ['BR-CO-10: lines', stated.linesMinor === sums.linesMinor],
    ['BR-CO-11: allowances', stated.allowancesMinor === sums.allowancesMinor],
    ['BR-CO-12: charges', stated.chargesMinor === sums.chargesMinor],
    [
      'BR-CO-13: total without tax',
      stated.withoutTaxMinor === stated.linesMinor - stated.allowancesMinor + stated.chargesMinor,
    ],
    ['BR-CO-14: tax', stated.taxMinor === sums.taxMinor],
    ['BR-CO-15: total with tax', stated.withTaxMinor === stated.withoutTaxMinor + stated.taxMinor],
    [
      'BR-CO-16: due',
      stated.dueMinor === stated.withTaxMinor - stated.prepaidMinor + stated.roundingMinor &&
        stated.prepaidMinor === input.prepaidMinor &&
        stated.roundingMinor === input.roundingMinor,
    ],
    ['BR-CO-17: base × rate = tax', input.taxGroups.every(followsFromItsBase)],
  ];
  return checks.filter(([, holds]) => !holds).map(([name]) => name);
}

function followsFromItsBase({ taxableMinor, ratePercent, taxMinor, slackMinor = 0n }: TaxGroup): boolean {
  const difference = taxMinor - roundHalfUp(taxableMinor, ratePercent);
  return difference <= slackMinor && -difference <= slackMinor;
}
