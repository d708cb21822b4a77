import { hasRate } from '@grainwright/db';
import { ok, type Period, parseMoney, type Result, refuse } from '@grainwright/domain';
import { everyResult } from '../every-result.ts';
import type { Scope } from '../perform.ts';
import { type DatedInput, readPeriod, readWords } from '../read-input.ts';
import { readRateCode } from './read-code.ts';

/** A price that an account or a tier has of its own, as typed. */
export interface OwnPriceInput extends DatedInput {
  readonly code: string;
  readonly price: string;
  readonly reason: string;
}

export interface OwnPrice {
  readonly code: string;
  readonly priceMinor: bigint;
  readonly reason: string;
  readonly inForce: Period;
}

/** Reads an own price for a code that the price book has; `whose` stands in the sentence that asks for the reason. */
export async function readOwnPrice(
  { tx, business }: Pick<Scope, 'tx' | 'business'>,
  input: OwnPriceInput,
  whose: string,
): Promise<Result<OwnPrice>> {
  const read = everyResult({
    code: readRateCode(input.code),
    priceMinor: parseMoney(input.price, { currency: business.currency, field: 'price' }),
    reason: readWords(input.reason, 'reason', `why ${whose} has its own price`, 200),
    inForce: readPeriod(input),
  });
  if (!read.ok) return read;
  const { code, priceMinor } = read.value;
  if (priceMinor === 0n) return refuse('invalid_money', 'Write a price above zero.', 'price');
  if (!(await hasRate(tx, code)))
    return refuse('invalid_input', `The price book has no rate ${code}. Choose one of its codes.`, 'code');
  return ok(read.value);
}
