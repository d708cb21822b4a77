import { countMonthFacts, type MonthFacts, sumLedgerOn } from '@grainwright/db';
import { displayMoney, firstDay, lastDay, type Month, sumMinor } from '@grainwright/domain';
import { checkRows } from '../billing/check-ledger.ts';
import type { Scope } from '../perform.ts';
import { type AgingOfAll, agingOf } from '../reports/aging-of.ts';
import { salesTaxOf } from '../reports/sales-tax-of.ts';

/** What is looked at before a month is closed. */
export type MonthCheckName =
  | 'ledger'
  | 'aging'
  | 'sales_tax'
  | 'unassigned_receipts'
  | 'to_invoice'
  | 'statements'
  | 'unapplied_credit'
  | 'disputed';

export interface MonthCheck {
  readonly name: MonthCheckName;
  /** Where the books are wrong nobody closes them; the rest is to be looked at, and may stay as it is. */
  readonly weight: 'must_hold' | 'to_look_at';
  readonly holds: boolean;
  /** What was found, in a sentence. */
  readonly words: string;
}

/** Looks at the month as of its last day: first what must hold, then what somebody should have looked at. */
export async function monthChecks(
  scope: Pick<Scope, 'tx' | 'business'>,
  month: Month,
): Promise<readonly MonthCheck[]> {
  const { tx, business } = scope;
  const aging = await agingOf(scope, lastDay(month));
  const facts = await countMonthFacts(tx, month, lastDay(month));
  const ledger = await sumLedgerOn(tx, lastDay(month));
  const unassignedMinor = -(ledger.get('unassigned_receipts') ?? 0n);
  return [
    await ledgerCheck(scope),
    agingCheck(aging, business.currency),
    await salesTaxCheck(scope, month),
    ...toLookAt({ facts, aging, unassignedMinor, currency: business.currency }),
  ];
}

const faultsShown = 3;

async function ledgerCheck({ tx }: Pick<Scope, 'tx'>): Promise<MonthCheck> {
  const faults = await checkRows(tx);
  const more = faults.length > faultsShown ? `, and ${faults.length - faultsShown} more` : '';
  return {
    name: 'ledger',
    weight: 'must_hold',
    holds: faults.length === 0,
    words:
      faults.length === 0
        ? 'Every entry balances, every balance is the sum of its postings, and no number is missing.'
        : `${faults.slice(0, faultsShown).join('; ')}${more}.`,
  };
}

function agingCheck({ total, ledgerMinor }: AgingOfAll, currency: string): MonthCheck {
  const holds = total.balanceMinor === ledgerMinor;
  return {
    name: 'aging',
    weight: 'must_hold',
    holds,
    words: holds
      ? `Aging and ledger both come to ${displayMoney(ledgerMinor, currency)}.`
      : `Aging comes to ${displayMoney(total.balanceMinor, currency)}, the ledger to ${displayMoney(ledgerMinor, currency)}.`,
  };
}

async function salesTaxCheck(scope: Pick<Scope, 'tx' | 'business'>, month: Month): Promise<MonthCheck> {
  const { currency } = scope.business;
  const { report, payable } = await salesTaxOf(scope, { from: firstDay(month), to: lastDay(month) });
  const apart = report.rows.filter(
    (row) =>
      row.payableMinor !==
      sumMinor(payable.filter((each) => each.areaCode === row.areaCode).map((each) => each.amountMinor)),
  );
  const ledgerMinor = sumMinor(payable.map((each) => each.amountMinor));
  const holds = apart.length === 0 && report.total.payableMinor === ledgerMinor;
  return {
    name: 'sales_tax',
    weight: 'must_hold',
    holds,
    words: holds
      ? `The tax report and tax payable in the ledger both come to ${displayMoney(ledgerMinor, currency)} for the month.`
      : `The tax report comes to ${displayMoney(report.total.payableMinor, currency)}, tax payable in the ledger to ${displayMoney(ledgerMinor, currency)}${apart.length > 0 ? ` (areas ${apart.map((row) => row.areaCode).join(', ')})` : ''}.`,
  };
}

interface Looked {
  readonly facts: MonthFacts;
  readonly aging: AgingOfAll;
  readonly unassignedMinor: bigint;
  readonly currency: string;
}

function toLookAt({ facts, aging, unassignedMinor, currency }: Looked): readonly MonthCheck[] {
  const amount = (minor: bigint) => displayMoney(minor, currency);
  const { unappliedMinor, disputedMinor } = aging.total;
  const waiting = facts.toGetStatements - facts.gotStatements;
  const look = (name: MonthCheckName, holds: boolean, clear: string, open: string): MonthCheck => ({
    name,
    weight: 'to_look_at',
    holds,
    words: holds ? clear : open,
  });
  return [
    look(
      'unassigned_receipts',
      facts.unassigned === 0 && unassignedMinor === 0n,
      'Every receipt has its payer.',
      `${counted(facts.unassigned, 'receipt')} of ${amount(unassignedMinor)} without a payer.`,
    ),
    look(
      'to_invoice',
      facts.toInvoice === 0,
      'All accepted work is invoiced.',
      `${counted(facts.toInvoice, 'work order')} accepted and not invoiced.`,
    ),
    look(
      'statements',
      waiting === 0,
      `${counted(facts.gotStatements, 'statement')} issued; none is missing.`,
      `${counted(waiting, 'account')} without the statement of this month; ${facts.gotStatements} issued.`,
    ),
    look(
      'unapplied_credit',
      unappliedMinor === 0n,
      'All account credit is applied.',
      `${amount(-unappliedMinor)} of account credit settles nothing yet.`,
    ),
    look(
      'disputed',
      disputedMinor === 0n,
      'Nothing is in dispute.',
      `${amount(disputedMinor)} in dispute without an answer.`,
    ),
  ];
}

function counted(count: number, what: string): string {
  return count === 1 ? `1 ${what}` : `${count} ${what}s`;
}
