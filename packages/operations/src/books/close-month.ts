import {
  findLastPosting,
  findMonthClosing,
  insertMonthClosing,
  listMonthsOfBooks,
  lockNumbers,
} from '@grainwright/db';
import { type Month, type MonthClosingId, ok, parseMonth, type Result, refuse } from '@grainwright/domain';
import { type Actor, performAsStaff, record, type Scope } from '../perform.ts';
import { readWords } from '../read-input.ts';
import type { Services } from '../services.ts';
import { monthChecks } from './month-checks.ts';
import { canClose, canReopen, isClosed, type MonthCloseView, readMonthClose } from './read-month-close.ts';

export interface CloseMonthInput {
  /** A UUID made by the client. */
  readonly closingId: MonthClosingId;
  /** `2026-10` */
  readonly month: string;
}

export interface ReopenMonthInput extends CloseMonthInput {
  readonly reason: string;
}

/**
 * Closes a month of the books: from then on nothing is posted that is dated in it, whoever posts; the database
 * refuses it as well. Whoever posts takes the running number of postings first, and so does this: neither overtakes
 * the other. What it answers is read afterwards, when others may post again. Refuses with `wrong_state` a month that still runs, one after an open month with postings, and books
 * that do not hold.
 */
export async function closeMonth(
  services: Services,
  actor: Actor,
  input: CloseMonthInput,
): Promise<Result<MonthCloseView>> {
  const done = await performAsStaff(services, actor, 'close_month', async (scope) => {
    const month = parseMonth(input.month.trim());
    if (!month.ok) return month;
    await lockNumbers(scope.tx, 'posting');
    return take(scope, { ...input, month: month.value, action: 'closed', reason: '' }, async (months) => {
      if (isClosed(months, month.value))
        return refuse('wrong_state', `${month.value} is closed already.`, 'month');
      return canClose(months, await monthChecks(scope, month.value), month.value, scope.today);
    });
  });
  return done.ok ? readMonthClose(services, actor, { month: done.value }) : done;
}

/** Opens a closed month again, for a reason that stays on record. The owner's to do; the latest closed one first. */
export async function reopenMonth(
  services: Services,
  actor: Actor,
  input: ReopenMonthInput,
): Promise<Result<MonthCloseView>> {
  const done = await performAsStaff(services, actor, 'reopen_month', async (scope) => {
    const month = parseMonth(input.month.trim());
    if (!month.ok) return month;
    const reason = readWords(input.reason, 'reason', 'why it is opened again', 500);
    if (!reason.ok) return reason;
    await lockNumbers(scope.tx, 'posting');
    return take(
      scope,
      { ...input, month: month.value, action: 'reopened', reason: reason.value },
      async (months) =>
        isClosed(months, month.value)
          ? canReopen(months, month.value)
          : refuse('wrong_state', `${month.value} is open.`, 'month'),
    );
  });
  return done.ok ? readMonthClose(services, actor, { month: done.value }) : done;
}

interface Step {
  readonly closingId: MonthClosingId;
  readonly month: Month;
  readonly action: 'closed' | 'reopened';
  readonly reason: string;
}

async function take(
  scope: Scope,
  { closingId, month, action, reason }: Step,
  allowed: (months: Awaited<ReturnType<typeof listMonthsOfBooks>>) => Promise<Result<true>>,
): Promise<Result<Month>> {
  const { tx } = scope;
  const known = await findMonthClosing(tx, closingId);
  if (known !== null)
    return known.month === month && known.action === action && known.reason === reason
      ? ok(month)
      : refuse('id_reused', 'This id stands for something else that was done. Send a new one.', 'id');
  const months = await listMonthsOfBooks(tx);
  const may = await allowed(months);
  if (!may.ok) return may;
  const step = (months.find((each) => each.month === month)?.steps ?? 0) + 1;
  const posting = await findLastPosting(tx);
  const done = { doneBy: scope.actor.personId, doneAt: scope.now };
  const written = await insertMonthClosing(tx, {
    id: closingId,
    month,
    step,
    action,
    reason,
    posting,
    ...done,
  });
  if (!written) throw new Error('a month closing was written by somebody without the lock');
  await record(
    scope,
    `month_${action}`,
    { kind: 'month', id: closingId },
    { month, reason, posting: posting.toString() },
  );
  return ok(month);
}
