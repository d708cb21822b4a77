import type { PurchaseOrderUse } from '@grainwright/db';
import type { Day } from '@grainwright/domain';
import type { PurchaseOrderView } from './work-order-view.ts';

export function purchaseOrderView(order: PurchaseOrderUse, today: Day): PurchaseOrderView {
  const { id, accountId, number, capMinor, invoicedMinor, validFrom, validTo, note } = order;
  return {
    id,
    accountId,
    number,
    capMinor,
    invoicedMinor,
    leftMinor: capMinor === null ? null : capMinor - invoicedMinor,
    validFrom,
    validTo,
    note,
    standing: today < validFrom ? 'not_yet' : validTo !== null && validTo < today ? 'ended' : 'valid',
  };
}
