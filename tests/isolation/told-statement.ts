import type { MailId, StatementRunId } from '@grainwright/domain';
import { issueStatements, mailStatement, runStatements, sendMail } from '@grainwright/operations';
import { type Account, must } from '../support/world.ts';
import { tellSeals } from './told-seals.ts';

/** The month that is over: its statement is issued, and the mail server would not take the mail with it. */
export const issuedMonth = '2026-07';

export async function tellStatement(account: Account) {
  const { id: accountId, business } = account;
  const { world, bookkeeper, tenantId } = business;
  const { services } = world;
  const { signingKey } = await tellSeals(account);
  const runId = world.newId<StatementRunId>();
  must(await runStatements(services, bookkeeper, { runId, month: issuedMonth, accountIds: [accountId] }));
  must(await issueStatements(services, { tenantId, runId }));
  const mailId = world.newId<MailId>();
  must(await mailStatement(services, bookkeeper, { accountId, month: issuedMonth, mailId }));
  const carry = async () => ({ carried: false, problem: 'no such mailbox', forGood: true }) as const;
  must(await sendMail(services, { tenantId, mailId, carrier: { carry } }));
  return { statementRun: runId, mail: mailId, signingKey };
}
