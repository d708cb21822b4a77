import {
  countUnsealedOf,
  findBusiness,
  findLastPosting,
  findStatementRun,
  holdStatementAccounts,
  insertStatements,
  listStatementHeads,
  lockWaitingAccounts,
  type RunAccountOutcome,
  type StatementAccount,
  type StatementHead,
  type StatementRecord,
  type StatementRunRecord,
  settleRunAccounts,
  type TenantTransaction,
} from '@grainwright/db';
import {
  type AccountId,
  dayAt,
  ok,
  type Result,
  type Statement,
  type StatementId,
  type StatementRunId,
  skippedMonth,
  type TenantId,
  toId,
} from '@grainwright/domain';
import { type RecordScope, record, type Scope } from '../perform.ts';
import { sealDaysOver } from '../seals/seal-days-over.ts';
import type { Services } from '../services.ts';
import { readAccountJournals, standingOf, statementOf } from './account-journal.ts';
import { freeze } from './frozen-content.ts';
import { type StatementAsked, type StatementContent, statementContentsOf } from './statement-view.ts';

export interface StatementsToIssue {
  readonly tenantId: TenantId;
  readonly runId: StatementRunId;
}

/** So many accounts are issued in one transaction: progress shows, and a stopped run loses little. */
const accountsAtOnce = 20;

/**
 * The worker's part: issues what still waits of a run, some accounts at a time. Stopped in the middle it is gone on
 * with where it was; two at once share the work; whatever happens, an account has one statement of a month.
 */
export async function issueStatements(
  services: Pick<Services, 'database' | 'links' | 'now' | 'newId'>,
  { tenantId, runId }: StatementsToIssue,
): Promise<Result<'done'>> {
  // So that every statement names a day over all that was sealed by then. What can't be sealed keeps nobody from their
  // statement, which says how much of theirs that is.
  const sealed = await sealDaysOver(services, tenantId);
  if (!sealed.ok) return sealed;
  for (;;) {
    const issued = await services.database.withTenant({ role: 'staff', tenantId }, (tx) =>
      issueSome(services, tx, runId),
    );
    if (!issued.ok) return issued;
    if (issued.value === 0) return ok('done');
  }
}

interface IssuingScope extends RecordScope, Pick<Scope, 'business' | 'today'> {}

/** Answers how many accounts were settled; 0 when nothing waits. */
async function issueSome(
  { now, newId }: Pick<Services, 'now' | 'newId'>,
  tx: TenantTransaction,
  runId: StatementRunId,
): Promise<Result<number>> {
  const run = await findStatementRun(tx, runId);
  const business = await findBusiness(tx);
  if (run === null || business === null) throw new Error(`there is no run of statements ${runId}`);
  const waiting = await lockWaitingAccounts(tx, runId, accountsAtOnce);
  const at = now();
  const actor = { personId: run.askedBy, accountId: null, fromAddress: '' };
  const scope = { tx, now: at, newId, actor, business, today: dayAt(at, business.timeZone) };
  await settleRunAccounts(tx, runId, await outcomesOf(scope, run, waiting));
  return ok(waiting.length);
}

async function outcomesOf(
  scope: IssuingScope,
  run: StatementRunRecord,
  accountIds: readonly AccountId[],
): Promise<readonly RunAccountOutcome[]> {
  const { tx } = scope;
  const accounts = await holdStatementAccounts(tx, accountIds);
  const heads = Map.groupBy(await listStatementHeads(tx, accountIds), (head) => head.accountId);
  const posting = await findLastPosting(tx);
  const journals = await readAccountJournals(tx, accounts);
  const judged = journals.map((journal) =>
    judge(scope, run, { journal, posting, heads: heads.get(journal.account.id) ?? [] }),
  );
  const due = judged.flatMap((each) => ('due' in each ? [each.due] : []));
  const contents = await withUnsealed(scope, await statementContentsOf(scope, run.month, due));
  const records = contents.map((content, index) => recordOf(scope, content, due[index]?.previous ?? null));
  await insertStatements(tx, records);
  await writeDown(scope, records);
  return [
    ...judged.flatMap((each) => ('outcome' in each ? [each.outcome] : [])),
    ...records.map(({ accountId, id }) => ({
      accountId,
      state: 'issued' as const,
      statementId: id,
      problem: '',
    })),
  ];
}

/** Beside the newest sealed day, how much of each account's own is not under it. */
async function withUnsealed(
  { tx, business }: IssuingScope,
  contents: readonly StatementContent[],
): Promise<readonly StatementContent[]> {
  const sealedDay = contents[0]?.sealedDay ?? null;
  if (sealedDay === null) return contents;
  const accountIds = contents.map(({ account }) => account.id);
  const counts = await countUnsealedOf(tx, accountIds, { day: sealedDay.day, timeZone: business.timeZone });
  return contents.map((content) => ({
    ...content,
    sealedDay: { ...sealedDay, unsealed: counts.get(content.account.id) ?? 0 },
  }));
}

interface Due extends StatementAsked {
  readonly previous: StatementHead | null;
}
type Judged = { readonly outcome: RunAccountOutcome } | { readonly due: Due };

/** Whether an account gets its statement now, has it already, needs none, or can't have it. */
function judge(
  scope: IssuingScope,
  { month, allAccounts }: StatementRunRecord,
  {
    journal,
    posting,
    heads,
  }: Pick<StatementAsked, 'journal' | 'posting'> & { readonly heads: readonly StatementHead[] },
): Judged {
  const { account } = journal;
  const { issued, previous, next } = standingOf(heads, month);
  if (issued !== null)
    return {
      outcome: { accountId: account.id, state: 'issued_before', statementId: issued.id, problem: '' },
    };
  if (next !== null)
    return failed(
      account,
      `The statement of ${next.month} is issued already, and what ${month} had to tell is in it.`,
    );
  const due = { journal, month, previous, posting };
  const statement = provenStatement(scope, due);
  if (typeof statement === 'string') return failed(account, statement);
  const skipped = skippedMonth(statement, previous);
  if (skipped !== null)
    return failed(account, `${skipped} has something to tell and was not issued. Issue ${skipped} first.`);
  if (allAccounts && hasNothingToTell(statement))
    return { outcome: { accountId: account.id, state: 'nothing_to_tell', statementId: null, problem: '' } };
  return { due };
}

function failed({ id }: StatementAccount, problem: string): Judged {
  return { outcome: { accountId: id, state: 'failed', statementId: null, problem } };
}

/** One account whose books do not add up must not keep all others from their statements. */
function provenStatement(scope: IssuingScope, due: Due): Statement | string {
  try {
    return statementOf(scope, due.journal, due);
  } catch {
    return 'The figures of this account do not add up, so nothing was issued. Have the books checked: the command “ledger check” says where.';
  }
}

function hasNothingToTell({ rows, aging, depositsHeldMinor }: Statement): boolean {
  return (
    rows.length === 0 && aging.items.length === 0 && aging.unappliedMinor === 0n && depositsHeldMinor === 0n
  );
}

function recordOf(
  { newId, now, actor }: IssuingScope,
  content: StatementContent,
  previous: StatementHead | null,
): StatementRecord {
  const { account, month, kind, posting, currency } = content;
  const { openingMinor, chargesMinor, creditsMinor, paymentsMinor, closingMinor } = content;
  return {
    id: toId<StatementId>(newId()),
    accountId: account.id,
    month,
    kind,
    posting,
    previousId: previous?.id ?? null,
    currency,
    openingMinor,
    chargesMinor,
    creditsMinor,
    paymentsMinor,
    closingMinor,
    ...freeze(content),
    issuedBy: actor.personId,
    issuedAt: now,
  };
}

async function writeDown(scope: IssuingScope, records: readonly StatementRecord[]): Promise<void> {
  for (const { id, accountId, month, sha256, posting } of records)
    await record(
      scope,
      'statement_issued',
      { kind: 'statement', id },
      { account_id: accountId, month, sha256, posting: posting.toString() },
    );
}
