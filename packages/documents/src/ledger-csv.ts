import {
  type Day,
  formatMinor,
  type LedgerAccountCode,
  ledgerAccounts,
  type Month,
} from '@grainwright/domain';
import { csv } from './csv.ts';

/** What the table of a month's journal needs. Amounts are minor units of `currency`. */
export interface LedgerTable {
  readonly month: Month;
  readonly currency: string;
  readonly lines: readonly {
    readonly posting: bigint;
    readonly position: number;
    readonly on: Day;
    readonly event: string;
    readonly ledgerAccount: LedgerAccountCode;
    readonly amountMinor: bigint;
    readonly account: string;
    readonly invoice: string;
    readonly creditNote: string;
    readonly payment: string;
    readonly taxArea: string;
    readonly taxComponent: string;
  }[];
}

/** The journal as CSV with columns that stay: one row a line, an amount either in debit or in credit. */
export function ledgerCsv({ month, currency, lines }: LedgerTable): string {
  return csv(
    columns,
    lines.map((line) => [
      month,
      { figure: line.posting.toString() },
      { figure: line.position.toString() },
      line.on,
      line.event,
      line.ledgerAccount,
      ledgerAccounts[line.ledgerAccount].name,
      line.amountMinor > 0n ? { figure: formatMinor(line.amountMinor, currency) } : '',
      line.amountMinor < 0n ? { figure: formatMinor(-line.amountMinor, currency) } : '',
      currency,
      line.account,
      line.invoice,
      line.creditNote,
      line.payment,
      line.taxArea,
      line.taxComponent,
    ]),
  );
}

const columns = [
  'batch',
  'posting',
  'line',
  'date',
  'event',
  'ledger_account',
  'ledger_account_name',
  'debit',
  'credit',
  'currency',
  'account',
  'invoice',
  'credit_note',
  'payment',
  'tax_area',
  'tax_component',
] as const;
