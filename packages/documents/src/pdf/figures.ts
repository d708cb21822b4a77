import { type Day, formatMinor, type Month } from '@grainwright/domain';

/** An amount as the pages write it: `$1,234.56`, `−$63.75`, `CAD 12.00` with a space that does not break. */
export function moneyWords(amountMinor: bigint, currency: string): string {
  const [whole = '', fraction] = formatMinor(amountMinor < 0n ? -amountMinor : amountMinor, currency).split(
    '.',
  );
  const figure = `${whole.replace(/\B(?=(\d{3})+$)/g, ',')}${fraction === undefined ? '' : `.${fraction}`}`;
  const sign = amountMinor < 0n ? '−' : '';
  return currency === 'USD' ? `${sign}$${figure}` : `${sign}${currency}\u00a0${figure}`;
}

/** `Aug 5, 2026` */
export function dayWords(day: Day): string {
  const [year, month, date] = day.split('-');
  return `${monthName(month).slice(0, 3)} ${Number(date)}, ${year}`;
}

/** `August 2026` */
export function monthWords(month: Month): string {
  const [year, number] = month.split('-');
  return `${monthName(number)} ${year}`;
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

function monthName(number: string | undefined): string {
  return monthNames[Number(number) - 1] ?? '';
}
