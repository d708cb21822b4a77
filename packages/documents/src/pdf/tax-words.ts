import { formatDecimal } from '@grainwright/domain';
import { moneyWords } from './figures.ts';
import type { DocumentTax } from './invoice-model.ts';

/** “Area A state tax, 6.25 % of $284.90” */
export function taxWords(tax: DocumentTax, currency: string): string {
  const rate = formatDecimal(tax.ratePercent);
  return `${tax.areaName} ${tax.component.toLowerCase()} tax, ${rate} % of ${moneyWords(tax.baseMinor, currency)}`;
}
