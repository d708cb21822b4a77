import { listAccountsWithEntries, listStatementsWithContent, type StatementRecord } from '@grainwright/db';
import {
  type AccountId,
  addDays,
  type Day,
  firstDay,
  formatMinor,
  type Month,
  monthOf,
  type Statement,
} from '@grainwright/domain';
import type { Scope } from '../perform.ts';
import {
  type AccountJournal,
  readAccountJournals,
  type StatementCut,
  statementOf,
} from './account-journal.ts';
import { provenContent } from './frozen-content.ts';

type CheckScope = Pick<Scope, 'tx' | 'business' | 'today'>;
type Journal = AccountJournal<{ readonly id: AccountId; readonly name: string }>;

/** What the check looked at, and a sentence for everything that does not hold. */
export interface StatementCheck {
  readonly accounts: number;
  readonly checked: number;
  readonly faults: readonly string[];
}

/**
 * Proves for every account and month that the statement's equation holds, each month opening as the one before closed;
 * and of what was issued, that its content is what was frozen, that one opens as the one before closed, and that the
 * ledger still comes to it at the posting where it was cut.
 */
export async function checkStatements(scope: CheckScope): Promise<StatementCheck> {
  const accounts = await listAccountsWithEntries(scope.tx);
  const faults: string[] = [];
  let checked = 0;
  for (const account of accounts) {
    const [journal] = await readAccountJournals(scope.tx, [account]);
    if (journal === undefined) throw new Error('an account has no journal');
    const issued = await listStatementsWithContent(scope.tx, account.id);
    const months = checkMonths(scope, journal);
    checked += months.checked + issued.length;
    faults.push(...months.faults, ...checkIssued(scope, journal, issued));
  }
  return { accounts: accounts.length, checked, faults };
}

function checkMonths(scope: CheckScope, journal: Journal): Omit<StatementCheck, 'accounts'> {
  const { account, entries } = journal;
  const days = entries.map((entry) => entry.occurredOn).toSorted();
  const months = monthsBack(scope.today, days[0] ?? scope.today).toReversed();
  const posting = entries.at(-1)?.sequence ?? 0n;
  const faults: string[] = [];
  let closedMinor = 0n;
  for (const month of months) {
    const statement = provenStatement(scope, journal, { month, previous: null, posting });
    if (typeof statement === 'string') {
      faults.push(`${account.name}, ${month}: ${statement}`);
      continue;
    }
    if (statement.openingMinor !== closedMinor)
      faults.push(opensWrong(`${account.name}, ${month}`, statement.openingMinor, closedMinor));
    closedMinor = statement.closingMinor;
  }
  return { checked: months.length, faults };
}

/** `issued` has the latest first. */
function checkIssued(
  scope: CheckScope,
  journal: Journal,
  issued: readonly StatementRecord[],
): readonly string[] {
  return issued.flatMap((record, index) => {
    const previous = issued[index + 1] ?? null;
    const name = `${journal.account.name}, the statement of ${record.month}`;
    const content = provenContent(record);
    const again = provenStatement(scope, journal, { ...record, previous });
    return [
      ...(content.ok ? [] : [`${name}: ${content.problem.detail}`]),
      ...(content.ok && !sameFigures(content.value, record)
        ? [`${name}: its figures are not those of its content`]
        : []),
      ...(previous !== null && previous.closingMinor !== record.openingMinor
        ? [opensWrong(name, record.openingMinor, previous.closingMinor)]
        : []),
      ...(typeof again === 'string' ? [`${name}: ${again}`] : []),
      ...(typeof again !== 'string' && !sameFigures(again, record)
        ? [`${name}: the ledger comes to other figures at posting ${record.posting}`]
        : []),
    ];
  });
}

type Figures = Pick<
  Statement,
  'openingMinor' | 'chargesMinor' | 'creditsMinor' | 'paymentsMinor' | 'closingMinor'
>;

function sameFigures(one: Figures, other: Figures): boolean {
  return (
    one.openingMinor === other.openingMinor &&
    one.chargesMinor === other.chargesMinor &&
    one.creditsMinor === other.creditsMinor &&
    one.paymentsMinor === other.paymentsMinor &&
    one.closingMinor === other.closingMinor
  );
}

function opensWrong(name: string, openingMinor: bigint, closedMinor: bigint): string {
  return `${name} opens with ${formatMinor(openingMinor)} where ${formatMinor(closedMinor)} was closed`;
}

/** Every month from that of `latest` back to that of `earliest`. */
function monthsBack(latest: Day, earliest: Day): readonly Month[] {
  const months: Month[] = [];
  for (let month = monthOf(latest); month >= monthOf(earliest); month = monthOf(addDays(firstDay(month), -1)))
    months.push(month);
  return months;
}

/** The statement proves itself when it is built; here a failed proof is a finding and not the end. */
function provenStatement(scope: CheckScope, journal: Journal, cut: StatementCut): Statement | string {
  try {
    return statementOf(scope, journal, cut);
  } catch (error) {
    return error instanceof Error ? error.message : String(error);
  }
}
