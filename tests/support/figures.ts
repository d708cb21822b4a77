import { readFileSync } from 'node:fs';

type Row = Readonly<Record<string, string>>;

/**
 * A table of the figures agreed for the demo business: invented, computed by one program and recomputed to the cent by
 * a second one that was written apart from the same price rules. They are what the product is measured by.
 */
export function figures(
  name: 'aging' | 'invoices' | 'priced-lines' | 'receipts' | 'sales-tax' | 'visits' | 'work-orders',
): readonly Row[] {
  const text = readFileSync(new URL(`../figures/${name}.csv`, import.meta.url), 'utf8');
  const [header = '', ...lines] = text.trim().split('\n');
  const names = cellsOf(header);
  return lines.map((line) => {
    const cells = cellsOf(line);
    return Object.fromEntries(names.map((column, index) => [column, cells[index] ?? '']));
  });
}

/** `1234` as `12.34`. */
export function fromCents(text: string | undefined): string {
  if (text === undefined || !/^-?\d+$/.test(text)) throw new Error(`not cents: ${text}`);
  const cents = BigInt(text);
  const digits = (cents < 0n ? -cents : cents).toString().padStart(3, '0');
  return `${cents < 0n ? '-' : ''}${digits.slice(0, -2)}.${digits.slice(-2)}`;
}

/** The cents of `12.34`. */
export function cents(amount: string | undefined): bigint {
  if (amount === undefined || !/^-?\d+\.\d\d$/.test(amount)) throw new Error(`not an amount: ${amount}`);
  return BigInt(amount.replace('.', ''));
}

export function sumOf(amounts: readonly string[]): string {
  return fromCents(amounts.reduce((sum, amount) => sum + cents(amount), 0n).toString());
}

function cellsOf(line: string): readonly string[] {
  return [...line.matchAll(/(?:^|,)(?:"([^"]*)"|([^,]*))/g)].map(
    ([, quoted, plain]) => quoted ?? plain ?? '',
  );
}
