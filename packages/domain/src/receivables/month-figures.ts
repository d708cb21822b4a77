import type { Month } from '../dates.ts';
import type { LedgerAccountCode } from '../ledger/chart.ts';
import type { JournalEvent } from '../ledger/journal.ts';
import { sumMinor } from '../money/money.ts';
import { type StatementRowKind, statementEffects } from './statement-effects.ts';

/** What the entries of one kind moved on one ledger account of a customer in one month. */
export interface MonthMovement {
  /** Null: before the first of the months. */
  readonly month: Month | null;
  readonly event: JournalEvent;
  readonly account: LedgerAccountCode;
  readonly amountMinor: bigint;
}

/** `openingMinor + chargesMinor − creditsMinor − paymentsMinor = closingMinor`, as on the month's statement. */
export interface MonthFigures {
  readonly month: Month;
  readonly openingMinor: bigint;
  readonly chargesMinor: bigint;
  readonly creditsMinor: bigint;
  readonly paymentsMinor: bigint;
  readonly closingMinor: bigint;
}

/**
 * The figures of a customer's months, as their statements would have them when nothing was frozen, without their
 * rows. `months` follow each other, earliest first. Throws where what a month tells does not lead to its closing.
 */
export function monthFigures(
  months: readonly Month[],
  movements: readonly MonthMovement[],
): readonly MonthFigures[] {
  const byMonth = Map.groupBy(movements.filter(isOfBalance), (movement) => movement.month);
  let openingMinor = amountOf(byMonth.get(null) ?? []);
  return months.map((month) => {
    const figures = figuresOf(month, openingMinor, byMonth.get(month) ?? []);
    openingMinor = figures.closingMinor;
    return figures;
  });
}

function figuresOf(month: Month, openingMinor: bigint, moved: readonly MonthMovement[]): MonthFigures {
  const chargesMinor = toldMinor('charge', moved);
  const creditsMinor = -toldMinor('credit', moved);
  const paymentsMinor = -toldMinor('payment', moved);
  const closingMinor = openingMinor + amountOf(moved);
  if (openingMinor + chargesMinor - creditsMinor - paymentsMinor !== closingMinor)
    throw new Error(`what ${month} tells does not lead to where the ledger stands, ${closingMinor}`);
  return { month, openingMinor, chargesMinor, creditsMinor, paymentsMinor, closingMinor };
}

function toldMinor(kind: StatementRowKind, moved: readonly MonthMovement[]): bigint {
  return amountOf(
    moved.filter(({ event, account }) => {
      const effect = statementEffects[event];
      return effect?.kind === kind && effect.moves.includes(account);
    }),
  );
}

/** The balance is receivables less account credit. */
function isOfBalance({ account }: MonthMovement): boolean {
  return account === 'receivables' || account === 'account_credit';
}

function amountOf(movements: readonly MonthMovement[]): bigint {
  return sumMinor(movements.map((movement) => movement.amountMinor));
}
