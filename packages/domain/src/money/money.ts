import { ok, type Result, refuse } from '../result.ts';
import { type Decimal, formatDecimal } from './decimal.ts';

/** Digits after the decimal point and the sign written before an amount, by ISO 4217 code. */
const currencies: Readonly<Record<string, { readonly minorUnits: number; readonly symbol: string }>> = {
  CAD: { minorUnits: 2, symbol: 'CA$' },
  EUR: { minorUnits: 2, symbol: '€' },
  GBP: { minorUnits: 2, symbol: '£' },
  JPY: { minorUnits: 0, symbol: '¥' },
  MXN: { minorUnits: 2, symbol: 'MX$' },
  USD: { minorUnits: 2, symbol: '$' },
};

/** An amount with more digits than this is a slip of the finger, not a price. */
const wholeDigitsMax = 9;

/** How many digits an amount has after its decimal point; throws for a currency not in the table. */
export function minorUnits(currency: string): number {
  return currencyOf(currency).minorUnits;
}

export interface MoneyInput {
  readonly currency?: string;
  /** False unless said otherwise: most amounts that people type are not negative. */
  readonly allowNegative?: boolean;
  readonly field?: string;
}

/** Reads what a person types, `1,234.56`, `1234.5` or `$12`, into minor units. Refuses with `invalid_money`. */
export function parseMoney(text: string, input: MoneyInput = {}): Result<bigint> {
  const currency = input.currency ?? 'USD';
  const plain = text.trim().replace('−', '-').replace(currencyOf(currency).symbol, '').trim();
  const plainWhole = plain.replace(/^-?(?=\.\d)/, '$&0');
  const grouped = /^-?\d{1,3}(,\d{3})+(\.\d*)?$/.test(plain);
  return readAmount(grouped ? plain.replaceAll(',', '') : plainWhole, text, input);
}

/** Reads an amount of the API, a decimal string without grouping such as `1234.56`. Refuses with `invalid_money`. */
export function parseMinor(text: string, input: MoneyInput = {}): Result<bigint> {
  return readAmount(text, text, input);
}

function readAmount(plain: string, written: string, input: MoneyInput): Result<bigint> {
  const field = input.field ?? 'amount';
  const units = minorUnits(input.currency ?? 'USD');
  const example = units === 0 ? '1234' : `1234.${'56'.padEnd(units, '0')}`;
  const shown = written.trim().slice(0, 40);
  if (shown === '') return refuse('invalid_money', `Write an amount, like ${example}.`, field);
  const match = /^(-?)(\d+)(?:\.(\d+))?$/.exec(plain);
  const whole = match?.[2]?.replace(/^0+(?=\d)/, '');
  if (!match || whole === undefined)
    return refuse('invalid_money', `“${shown}” is not an amount. Write it like ${example}.`, field);
  const fraction = match[3] ?? '';
  if (fraction.length > units)
    return refuse(
      'invalid_money',
      units === 0
        ? `“${shown}” has decimals. Write whole units, like ${example}.`
        : `“${shown}” has ${fraction.length} decimals. Write at most ${units}, like ${example}.`,
      field,
    );
  if (whole.length > wholeDigitsMax)
    return refuse('invalid_money', `“${shown}” is too large. Check the number of digits.`, field);
  const minor = BigInt(`${whole}${fraction.padEnd(units, '0')}`);
  if (match[1] === '-' && minor !== 0n && input.allowNegative !== true)
    return refuse('invalid_money', `“${shown}” is negative. Write the amount without a minus sign.`, field);
  return ok(match[1] === '-' ? -minor : minor);
}

/** Plain notation for the API and for files, e.g. `1234.56` or `-0.05`; `parseMinor` reads it back. */
export function formatMinor(minor: bigint, currency = 'USD'): string {
  return formatDecimalFixed({ digits: minor, scale: minorUnits(currency) });
}

/** An amount for people, with its currency: `$1,234.56`, `−$1.00`. */
export function displayMoney(minor: bigint, currency = 'USD'): string {
  const { symbol } = currencyOf(currency);
  const [whole = '', fraction] = formatMinor(minor < 0n ? -minor : minor, currency).split('.');
  const grouped = whole.replace(/\B(?=(\d{3})+$)/g, ',');
  return `${minor < 0n ? '−' : ''}${symbol}${grouped}${fraction === undefined ? '' : `.${fraction}`}`;
}

/** `minor` × `percent` %, exact, then rounded once to a whole minor unit, half away from zero. */
export function roundHalfUp(minor: bigint, percent: Decimal): bigint {
  return timesHalfUp(minor, { digits: percent.digits, scale: percent.scale + 2 });
}

/** `minor` × `factor`, exact, then rounded once to a whole minor unit, half away from zero. */
export function timesHalfUp(minor: bigint, factor: Decimal): bigint {
  return divideHalfUp(minor * factor.digits, 10n ** BigInt(factor.scale));
}

/** `minor` × `part` ÷ `whole`, exact, then rounded once to a whole minor unit, half away from zero. */
export function proportionHalfUp(minor: bigint, part: bigint, whole: bigint): bigint {
  if (whole <= 0n) throw new Error('a proportion needs a whole above zero');
  return divideHalfUp(minor * part, whole);
}

/** `part` as a percent of `whole`, one decimal, half away from zero; null when there is no whole. */
export function percentOf(partMinor: bigint, wholeMinor: bigint): Decimal | null {
  if (wholeMinor <= 0n) return null;
  return { digits: divideHalfUp(partMinor * 1000n, wholeMinor), scale: 1 };
}

/** A percent in words, `12.5 %`. */
export function displayPercent(percent: Decimal): string {
  return `${formatDecimal(percent)} %`;
}

/** The lesser of two amounts. */
export function lesserMinor(a: bigint, b: bigint): bigint {
  if (a < b) return a;
  return b;
}

export function sumMinor(amounts: readonly bigint[]): bigint {
  return amounts.reduce((sum, amount) => sum + amount, 0n);
}

function divideHalfUp(dividend: bigint, divisor: bigint): bigint {
  const magnitude = dividend < 0n ? -dividend : dividend;
  const rounded = (2n * magnitude + divisor) / (2n * divisor);
  return dividend < 0n ? -rounded : rounded;
}

function formatDecimalFixed(value: Decimal): string {
  const digits = (value.digits < 0n ? -value.digits : value.digits).toString().padStart(value.scale + 1, '0');
  const whole = digits.slice(0, digits.length - value.scale);
  const fraction = value.scale === 0 ? '' : `.${digits.slice(-value.scale)}`;
  return `${value.digits < 0n ? '-' : ''}${whole}${fraction}`;
}

function currencyOf(code: string): { readonly minorUnits: number; readonly symbol: string } {
  const currency = currencies[code];
  if (currency === undefined) throw new Error(`unknown currency ${code}`);
  return currency;
}
