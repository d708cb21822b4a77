import { agingCsv } from '@grainwright/documents';
import { type AccountId, type Day, ok, parseDay, type Result, refuse } from '@grainwright/domain';
import { type Actor, performAsStaff } from '../perform.ts';
import type { Services } from '../services.ts';
import type { ExportedFile } from '../statements/export-statement.ts';
import { type AgingOfAll, agingOf } from './aging-of.ts';

export interface ReadAgingInput {
  /** A day as text; null for today. */
  readonly asOf: string | null;
  /** The account that a page before ended with; null for the first page. */
  readonly after: AccountId | null;
}

/** A page of the aging of all accounts. Totals are of all of them. Amounts are minor units of `currency`. */
export interface AgingView extends AgingOfAll {
  readonly currency: string;
  readonly today: Day;
  /** How many accounts there are on all pages. */
  readonly accountsInAll: number;
  /** Where the next page goes on; null when this is the last. */
  readonly next: AccountId | null;
}

const accountsOfAPage = 250;

/**
 * What everybody owed on a day, by age. Throws when it does not come to the ledger's receivables less account credit.
 * Refuses a day that is still to come.
 */
export function readAging(
  services: Services,
  actor: Actor,
  input: ReadAgingInput,
): Promise<Result<AgingView>> {
  return performAsStaff(services, actor, 'see_statements', async (scope) => {
    const asOf = readAsOf(input.asOf, scope.today);
    if (!asOf.ok) return asOf;
    const all = await agingOf(scope, asOf.value);
    assertTied(all);
    const start =
      input.after === null ? 0 : all.accounts.findIndex((each) => each.accountId === input.after) + 1;
    const accounts = all.accounts.slice(start, start + accountsOfAPage);
    const more = all.accounts.length > start + accountsOfAPage;
    return ok({
      ...all,
      currency: scope.business.currency,
      today: scope.today,
      accounts,
      accountsInAll: all.accounts.length,
      next: more ? (accounts.at(-1)?.accountId ?? null) : null,
    });
  });
}

/** The aging of all accounts as CSV, one row an account and one for the total. */
export function exportAging(
  services: Services,
  actor: Actor,
  input: Pick<ReadAgingInput, 'asOf'>,
): Promise<Result<ExportedFile>> {
  return performAsStaff(services, actor, 'see_statements', async (scope) => {
    const asOf = readAsOf(input.asOf, scope.today);
    if (!asOf.ok) return asOf;
    const all = await agingOf(scope, asOf.value);
    assertTied(all);
    return ok({
      fileName: `aging-${all.asOf}.csv`,
      mediaType: 'text/csv; charset=utf-8; header=present',
      text: agingCsv({ ...all, currency: scope.business.currency }),
    });
  });
}

/** The day of an aging; today where nothing is said. */
export function readAsOf(text: string | null, today: Day): Result<Day> {
  if (text === null || text.trim() === '') return ok(today);
  const asOf = parseDay(text.trim(), 'as_of');
  if (asOf.ok && asOf.value > today)
    return refuse('invalid_date', 'That day is still to come. Choose today or an earlier one.', 'as_of');
  return asOf;
}

function assertTied({ asOf, total, ledgerMinor }: AgingOfAll): void {
  if (total.balanceMinor !== ledgerMinor)
    throw new Error(`aging of ${asOf} comes to ${total.balanceMinor}, the ledger to ${ledgerMinor}`);
}
