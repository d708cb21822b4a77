import {
  findMail,
  listKeptMails,
  listMailedStatements,
  listRunAccounts,
  listStatementAddresses,
  listStatementHeads,
  lockStatementRun,
  type StatementHead,
} from '@grainwright/db';
import {
  type AccountId,
  type MailId,
  ok,
  type Result,
  refuse,
  type StatementRunId,
  toId,
} from '@grainwright/domain';
import { type MailToQueue, queueMail } from '../mail/queue-mail.ts';
import { sendAgain } from '../mail/resend-mail.ts';
import { type Actor, performAsStaff, type Scope } from '../perform.ts';
import type { Services } from '../services.ts';
import { openIssued } from './read-frozen-statement.ts';
import type { ReadStatementInput } from './read-statement.ts';
import { statementMail } from './statement-mail.ts';

export interface MailStatementInput extends ReadStatementInput {
  /** Made by the client: the same id for the same statement again is the same mail. */
  readonly mailId: MailId;
}

/**
 * Mails a statement that was issued, as PDF, to the account's address for statements or, where it has none, to its
 * payers. Refuses with `wrong_state` a month that was not issued, and with `invalid_input` where there is no address.
 */
export function mailStatement(
  services: Services,
  actor: Actor,
  input: MailStatementInput,
): Promise<Result<MailId>> {
  return performAsStaff(services, actor, 'issue_statement', async (scope) => {
    const issued = await openIssued(scope, input);
    if (!issued.ok) return issued;
    const { id, accountId } = issued.value;
    const earlier = await findMail(scope.tx, input.mailId);
    if (earlier !== null)
      return earlier.aboutId === id
        ? ok(earlier.id)
        : refuse('id_reused', 'That id is another mail already.', 'id');
    const to = (await addressesOf(scope, [accountId])).get(accountId) ?? [];
    if (to.length === 0)
      return refuse(
        'invalid_input',
        'The account has no address for statements and no payer with an e-mail address. Write one on the account first.',
        'to',
      );
    return queueMail(scope, mailOf(scope, issued.value, input.mailId, to));
  });
}

/** How many mails of a run's statements were queued, and which accounts have no address to send theirs to. */
export interface MailedRun {
  readonly queued: number;
  readonly withoutAddress: readonly AccountId[];
}

/**
 * Mails every statement of a run that has not been mailed yet. Pressed twice it sends nothing twice; what was only kept,
 * for want of a mail server, is tried again, as a new mail where the addresses are others by now.
 */
export function mailRunStatements(
  services: Services,
  actor: Actor,
  runId: StatementRunId,
): Promise<Result<MailedRun>> {
  return performAsStaff(services, actor, 'issue_statement', async (scope) => {
    const { tx, newId } = scope;
    if (!(await lockStatementRun(tx, runId)))
      return refuse('not_found', 'There is no such run of statements.');
    const rows = await listRunAccounts(tx, runId);
    const ids = rows.flatMap((row) => row.statementId ?? []);
    const mailed = await listMailedStatements(tx, ids);
    const kept = await listKeptMails(tx, ids);
    const due = rows.filter((row) => row.statementId !== null && !mailed.has(row.statementId));
    const accountIds = due.map((row) => row.accountId);
    const heads = new Map((await listStatementHeads(tx, accountIds)).map((head) => [head.id, head]));
    const addresses = await addressesOf(scope, accountIds);
    const withoutAddress: AccountId[] = [];
    for (const { accountId, statementId } of due) {
      const head = statementId === null ? undefined : heads.get(statementId);
      const to = addresses.get(accountId) ?? [];
      if (head === undefined || to.length === 0) {
        withoutAddress.push(accountId);
        continue;
      }
      const before = kept.get(head.id);
      if (before !== undefined && before.recipients.toSorted().join() === to.toSorted().join()) {
        await sendAgain(scope, before.id);
        continue;
      }
      const queued = await queueMail(scope, mailOf(scope, head, toId<MailId>(newId()), to));
      if (!queued.ok) return queued;
    }
    return ok({ queued: due.length - withoutAddress.length, withoutAddress });
  });
}

function addressesOf({ tx, now, business }: Scope, accountIds: readonly AccountId[]) {
  return listStatementAddresses(tx, accountIds, now, business.timeZone);
}

function mailOf({ business }: Scope, head: StatementHead, id: MailId, to: readonly string[]): MailToQueue {
  return {
    id,
    kind: 'statement',
    accountId: head.accountId,
    aboutId: head.id,
    to,
    ...statementMail(business, head),
  };
}
