import type { InvoiceToIssue, WaitForInvoice } from '@grainwright/operations';
import { dayText, monthText } from '../../../look/figures.ts';
import { numberNames } from '../number-names.ts';

/** What an invoice still waits for, in a sentence. */
export function waitWords(waits: WaitForInvoice): string {
  switch (waits.for) {
    case 'vehicles':
      return waits.count === 1
        ? 'Waits for one vehicle of the visit that is not accepted yet.'
        : `Waits for ${waits.count} vehicles of the visit that are not accepted yet.`;
    case 'numbers':
      return `Waits for the account’s ${waits.missing.map((kind) => numberNames[kind]).join(', ')}.`;
    case 'month_end':
      return `Waits for the end of the month, ${dayText(waits.lastDay)}.`;
  }
}

/** Which invoice it is: the month, or where and when the visit was. */
export function invoiceWhen({ month, workOrders }: InvoiceToIssue): string {
  if (month !== null) return monthText(month);
  const [first] = workOrders;
  return first === undefined ? '' : `${first.siteName}, ${dayText(first.day)}`;
}
