import { allocate } from '../money/allocation.ts';
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

/**
 * The tax in a part of an invoice that is written off, for a business whose policy takes it back: each component in
 * the proportion it has in the whole, whole cents by largest remainder. Whether the law of its place allows that is
 * for the business's adviser.
 */
export function writeOffShare(amountMinor: bigint, charged: ChargedWithTax): readonly TaxAmount[] {
  const taxes = charged.taxes.filter((tax) => tax.amountMinor > 0n);
  const [, ...shares] = allocate(amountMinor, [charged.netMinor, ...taxes.map((tax) => tax.amountMinor)]);
  return taxes
    .map((tax, index) => ({ ...tax, amountMinor: shares[index] ?? 0n }))
    .filter((tax) => tax.amountMinor > 0n);
}
