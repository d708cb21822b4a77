import { type DemandedNumber, ownNumberKinds } from '@grainwright/domain';

/** The numbers that an account may demand on its invoices, as pages name them. */
export const numberNames: Readonly<Record<DemandedNumber, string>> = {
  ...ownNumberKinds,
  repair_order: 'RO number',
  purchase_order: 'PO number',
};
