import type { Period } from '../dates.ts';
import type { Decimal } from '../money/decimal.ts';

/** What a charge is, for tax and revenue. After-hours, rush and minimums are labor. */
export type LineClass = 'labor' | 'materials' | 'trip' | 'fee';
export const lineClasses = ['labor', 'materials', 'trip', 'fee'] as const satisfies readonly LineClass[];

/** One component of a sales-tax rate, such as the state's or the county's. */
export interface TaxComponent {
  readonly name: string;
  readonly ratePercent: Decimal;
}

/** How a place taxes, for a period. Which class is taxable is configuration: the business's adviser decides. */
export interface TaxSetup {
  readonly areaCode: string;
  readonly areaName: string;
  readonly inForce: Period;
  readonly components: readonly TaxComponent[];
  readonly taxableClasses: readonly LineClass[];
}

/** The tenant's choices that SSUTA §324 leaves to the seller. */
export interface TaxRounding {
  readonly components: 'each' | 'together';
  readonly basis: 'invoice' | 'item';
}

/** A paper that removes tax, with its dates. It counts by the date of work. */
export interface ExemptionCertificate {
  readonly kind: 'resale' | 'exempt_use';
  readonly number: string;
  readonly valid: Period;
}
