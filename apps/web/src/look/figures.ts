/**
 * How amounts, days and ages are written.
 *
 * moneyText(amountMinor, currency) → “$284.90”, “−$63.75”, “CAD 12.00”; money(…) the same, never broken
 * dayText(day) → “Aug 5, 2026”; dayShown(day); monthText(month) → “August 2026”
 * instantShown(instant, timeZone) → “Aug 5, 2026, 2:14 PM”; ageText(days) → “14 days”
 */
import type { Day, Instant, Month } from '@grainwright/domain';
import { type Html, html } from './html.ts';

/** `amountMinor` in the minor unit of `currency`, an ISO 4217 code. */
export function moneyText(amountMinor: bigint, currency: string): string {
  const digits = minorDigits(currency);
  const absolute = (amountMinor < 0n ? -amountMinor : amountMinor).toString().padStart(digits + 1, '0');
  const whole = BigInt(absolute.slice(0, absolute.length - digits)).toLocaleString('en-US');
  const fraction = digits === 0 ? '' : `.${absolute.slice(-digits)}`;
  const sign = amountMinor < 0n ? '−' : '';
  return currency === 'USD' ? `${sign}$${whole}${fraction}` : `${sign}${currency}\u00a0${whole}${fraction}`;
}

export function money(amountMinor: bigint, currency: string): Html {
  return html`<span class="money">${moneyText(amountMinor, currency)}</span>`;
}

export function dayText(day: Day): string {
  const [year, month, date] = day.split('-');
  return `${monthNames[Number(month) - 1]?.slice(0, 3)} ${Number(date)}, ${year}`;
}

export function dayShown(day: Day): Html {
  return html`<time class="day" datetime="${day}">${dayText(day)}</time>`;
}

export function monthText(month: Month): string {
  const [year, number] = month.split('-');
  return `${monthNames[Number(number) - 1]} ${year}`;
}

export function instantShown(instant: Instant, timeZone: string): Html {
  const shown = new Intl.DateTimeFormat('en-US', { dateStyle: 'medium', timeStyle: 'short', timeZone });
  return html`<time class="day" datetime="${instant}">${shown.format(new Date(instant))}</time>`;
}

/** When something was received; what a phone sent later says first when it was done, by its own clock. */
export function sentLaterShown(received: Instant, onPhone: Instant | null, timeZone: string): Html {
  if (onPhone === null) return instantShown(received, timeZone);
  return html`${instantShown(onPhone, timeZone)} (by the phone’s clock), received ${instantShown(received, timeZone)}`;
}

/** An age in whole days. */
export function ageText(days: number): string {
  return days === 1 ? '1 day' : `${days} days`;
}

const monthNames = [
  'January',
  'February',
  'March',
  'April',
  'May',
  'June',
  'July',
  'August',
  'September',
  'October',
  'November',
  'December',
] as const;

function minorDigits(currency: string): number {
  return (
    new Intl.NumberFormat('en-US', { style: 'currency', currency }).resolvedOptions().maximumFractionDigits ??
    2
  );
}
