import { ok, type Result, refuse } from '../result.ts';

/** An exact decimal number: `digits` × 10^−`scale`. Rates, percents, miles and inches; never an amount. */
export interface Decimal {
  readonly digits: bigint;
  readonly scale: number;
}

/** Reads plain decimal notation, e.g. `-1.25`; no exponent, no grouping, at most 12 fraction digits. */
export function parseDecimal(text: string, field = 'number'): Result<Decimal> {
  const match = /^(-?)(\d{1,15})(?:\.(\d{1,12}))?$/.exec(text.trim());
  if (!match)
    return refuse('invalid_input', `“${text.slice(0, 40)}” is not a number. Write it like 2.5.`, field);
  const fraction = match[3] ?? '';
  const digits = BigInt(`${match[2] ?? ''}${fraction}`);
  return ok({ digits: match[1] === '-' ? -digits : digits, scale: fraction.length });
}

/** A number known to be right, as in configuration and tests; throws otherwise. */
export function decimal(text: string): Decimal {
  const parsed = parseDecimal(text);
  if (!parsed.ok) throw new Error(parsed.problem.detail);
  return parsed.value;
}

/** Plain notation without trailing zeros. */
export function formatDecimal(value: Decimal): string {
  const negative = value.digits < 0n;
  const text = (negative ? -value.digits : value.digits).toString().padStart(value.scale + 1, '0');
  const whole = text.slice(0, text.length - value.scale);
  const fraction = value.scale === 0 ? '' : text.slice(-value.scale).replace(/0+$/, '');
  return `${negative ? '-' : ''}${whole}${fraction === '' ? '' : `.${fraction}`}`;
}

/** Negative, zero or positive as `a` is less than, equal to or greater than `b`. */
export function compareDecimals(a: Decimal, b: Decimal): number {
  const scale = Math.max(a.scale, b.scale);
  const difference = a.digits * 10n ** BigInt(scale - a.scale) - b.digits * 10n ** BigInt(scale - b.scale);
  return difference < 0n ? -1 : difference > 0n ? 1 : 0;
}

export function addDecimals(a: Decimal, b: Decimal): Decimal {
  const scale = Math.max(a.scale, b.scale);
  return {
    digits: a.digits * 10n ** BigInt(scale - a.scale) + b.digits * 10n ** BigInt(scale - b.scale),
    scale,
  };
}

export function subtractDecimals(a: Decimal, b: Decimal): Decimal {
  return addDecimals(a, { digits: -b.digits, scale: b.scale });
}

export function multiplyDecimals(a: Decimal, b: Decimal): Decimal {
  return { digits: a.digits * b.digits, scale: a.scale + b.scale };
}

/** Throws unless the percent lies between 0 and 100: a discount, a share, a further-repair percent. */
export function assertShare(percent: Decimal, what: string): void {
  if (percent.digits < 0n || percent.digits > 100n * 10n ** BigInt(percent.scale))
    throw new Error(`${what} must lie between 0 and 100 %, is ${formatDecimal(percent)} %`);
}
