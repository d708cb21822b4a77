import {
  brokenNumbering,
  findBusiness,
  listAccountsWithEntries,
  type Mismatch,
  type StatementAccount,
  sumsByLedgerAccount,
  type TenantTransaction,
  unbalancedEntries,
  wrongInvoiceBalances,
  wrongPaymentBalances,
} from '@grainwright/db';
import {
  addDays,
  type Day,
  dayAt,
  firstDay,
  formatMinor,
  type Month,
  monthOf,
  ok,
  type Result,
  refuse,
  sumMinor,
  type TenantId,
} from '@grainwright/domain';
import type { Scope } from '../perform.ts';
import type { Services } from '../services.ts';
import { readAccountJournal, statementOf } from './statement-view.ts';

/** What the check looked at, and a sentence for everything that does not hold; none is the only good answer. */
export interface LedgerReport {
  readonly business: string;
  readonly ledgerAccounts: number;
  readonly customerAccounts: number;
  readonly statements: number;
  readonly faults: readonly string[];
}

/**
 * Proves a business's books: every entry and all of them together balance, what is kept as open and unapplied is
 * the sum of the ledger, numbers have no gaps, and the statement equation holds for every account and month, each
 * month opening as the one before closed. For administration: it asks for no person.
 */
export function checkLedger(services: Services, tenantId: TenantId): Promise<Result<LedgerReport>> {
  return services.database.withTenant({ role: 'staff', tenantId }, async (tx) => {
    const business = await findBusiness(tx);
    if (business === null) return refuse('not_found', 'There is no such business.');
    const sums = await sumsByLedgerAccount(tx);
    const differenceMinor = sumMinor(sums.map((sum) => sum.amountMinor));
    const today = dayAt(services.now(), business.timeZone);
    const statements = await checkStatements({ tx, business, today });
    return ok({
      business: business.name,
      ledgerAccounts: sums.length,
      customerAccounts: statements.accounts,
      statements: statements.checked,
      faults: [
        ...(differenceMinor === 0n ? [] : [`the ledger's balances sum to ${differenceMinor}, not to zero`]),
        ...(await checkRows(tx)),
        ...statements.faults,
      ],
    });
  });
}

async function checkRows(tx: TenantTransaction): Promise<readonly string[]> {
  const mismatches: readonly (readonly Mismatch[])[] = [
    await unbalancedEntries(tx),
    await wrongInvoiceBalances(tx),
    await wrongPaymentBalances(tx),
    await brokenNumbering(tx),
  ];
  return mismatches.flat().map(({ what, stands, shouldBe }) => `${what}: ${stands} instead of ${shouldBe}`);
}

type CheckScope = Pick<Scope, 'tx' | 'business' | 'today'>;

async function checkStatements(
  scope: CheckScope,
): Promise<{ readonly accounts: number; readonly checked: number; readonly faults: readonly string[] }> {
  const accounts = await listAccountsWithEntries(scope.tx);
  const faults: string[] = [];
  let checked = 0;
  for (const account of accounts) {
    const found = await checkAccount(scope, account);
    checked += found.checked;
    faults.push(...found.faults);
  }
  return { accounts: accounts.length, checked, faults };
}

async function checkAccount(
  scope: CheckScope,
  account: StatementAccount,
): Promise<{ readonly checked: number; readonly faults: readonly string[] }> {
  const journal = await readAccountJournal(scope, account);
  const days = journal.entries.map((entry) => entry.occurredOn).toSorted();
  const months = monthsBack(scope.today, days[0] ?? scope.today).toReversed();
  const faults: string[] = [];
  let closedMinor = 0n;
  for (const month of months) {
    const statement = provenStatement(() => statementOf(scope, journal, month));
    if (typeof statement === 'string') {
      faults.push(`${account.name}, ${month}: ${statement}`);
      continue;
    }
    if (statement.openingMinor !== closedMinor)
      faults.push(
        `${account.name}, ${month} opens with ${formatMinor(statement.openingMinor)} where ${formatMinor(closedMinor)} was closed`,
      );
    closedMinor = statement.closingMinor;
  }
  return { checked: months.length, faults };
}

/** Every month from that of `latest` back to that of `earliest`. */
function monthsBack(latest: Day, earliest: Day): readonly Month[] {
  const months: Month[] = [];
  for (let month = monthOf(latest); month >= monthOf(earliest); month = monthOf(addDays(firstDay(month), -1)))
    months.push(month);
  return months;
}

/** The statement proves itself when it is built; here a failed proof is a finding and not the end. */
function provenStatement(
  build: () => ReturnType<typeof statementOf>,
): ReturnType<typeof statementOf> | string {
  try {
    return build();
  } catch (error) {
    return error instanceof Error ? error.message : String(error);
  }
}
