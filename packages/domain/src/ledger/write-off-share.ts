import { lesserMinor, proportionHalfUp, sumMinor } from '../money/money.ts';
import type { TaxAmount } from './posting-amounts.ts';

/** Why the rest of an invoice is let go, with its name on pages. */
export const writeOffKinds = {
  bad_debt: 'bad debt',
  small_difference: 'small difference',
} as const satisfies Record<string, string>;
export type WriteOffKind = keyof typeof writeOffKinds;

/** What an invoice comes to after its credits. */
export interface ChargedWithTax {
  readonly netMinor: bigint;
  readonly taxes: readonly TaxAmount[];
}

/** What was written off of the invoice before and not recovered, and the tax taken back with it. */
export interface WrittenOffBefore {
  readonly amountMinor: bigint;
  readonly taxes: readonly TaxAmount[];
}

/**
 * The tax in a part of an invoice that is written off, for a business whose policy takes it back: that of all that is
 * written off with it, less what the earlier ones took back, so that parts never take back more than was charged and
 * all of them exactly that. Each component is in the proportion it has in the whole, rounded half up. Whether the law
 * of its place allows that is for the business's adviser.
 */
export function writeOffShare(
  amountMinor: bigint,
  charged: ChargedWithTax,
  before: WrittenOffBefore,
): readonly TaxAmount[] {
  const taxes = byComponent(charged.taxes);
  const taxMinor = sumMinor(taxes.map((tax) => tax.amountMinor));
  if (taxMinor <= 0n) return [];
  const totalMinor = charged.netMinor + taxMinor;
  const goneMinor = lesserMinor(before.amountMinor + amountMinor, totalMinor);
  const targets = sharesInTurn(proportionHalfUp(taxMinor, goneMinor, totalMinor), taxes);
  let leftMinor = amountMinor;
  return targets
    .map((tax) => {
      const shareMinor = lesserMinor(aboveZero(tax.amountMinor - takenBefore(before, tax)), leftMinor);
      leftMinor -= shareMinor;
      return { ...tax, amountMinor: shareMinor };
    })
    .filter((tax) => tax.amountMinor > 0n);
}

/** Places whose rates changed within the invoice have a component twice; it is one to whoever takes tax. */
function byComponent(taxes: readonly TaxAmount[]): readonly TaxAmount[] {
  const groups = Map.groupBy(taxes, keyOf);
  return [...groups.values()].flatMap((group) =>
    group
      .slice(0, 1)
      .map((tax) => ({ ...tax, amountMinor: sumMinor(group.map((each) => each.amountMinor)) })),
  );
}

function keyOf({ areaCode, component }: TaxAmount): string {
  return `${areaCode} ${component}`;
}

/** Each takes its part of what is left, so that no share falls when the amount grows, unlike with largest remainders. */
function sharesInTurn(amountMinor: bigint, taxes: readonly TaxAmount[]): readonly TaxAmount[] {
  let leftMinor = amountMinor;
  return taxes.map((tax, index) => {
    const weightMinor = sumMinor(taxes.slice(index).map((each) => each.amountMinor));
    const shareMinor = weightMinor === 0n ? 0n : proportionHalfUp(leftMinor, tax.amountMinor, weightMinor);
    leftMinor -= shareMinor;
    return { ...tax, amountMinor: shareMinor };
  });
}

function takenBefore(before: WrittenOffBefore, tax: TaxAmount): bigint {
  const own = before.taxes.filter((each) => keyOf(each) === keyOf(tax));
  return sumMinor(own.map((each) => each.amountMinor));
}

function aboveZero(amountMinor: bigint): bigint {
  return amountMinor > 0n ? amountMinor : 0n;
}
