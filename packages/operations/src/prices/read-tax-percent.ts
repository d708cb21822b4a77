import type { Decimal, Result } from '@grainwright/domain';
import { readNumber } from '../read-input.ts';

/** A rate of tax in per cent, below 100. */
export function readTaxPercent(text: string, field: string): Result<Decimal> {
  return readNumber(text.replace('%', ''), field, { least: '0', most: '99.99999', decimals: 5 });
}
